import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { givenQuantity, givenSpans } from '../../platform/http/given.js';
import { Reader } from '../../platform/database/reader.js';
import { Lineage } from '../../trace/lineage.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { Commands, type RecordFacts } from '../commands.js';
import type { Actor } from '../people/access.js';
import { Signatures } from '../people/signature.js';
import { lotStates } from '../stock/lot-state.query.js';
import { takenForRework } from './carry-out.query.js';
import { decideSign, decideWithdrawDisposition } from './disposition.decide.js';
import type { ProposeDispositionDto, SetReviewRuleDto, SignDispositionDto, WithdrawDispositionDto } from './disposition.dto.js';
import { decisionState } from './disposition.query.js';
import type { DispositionsView, ReviewRuleView } from './disposition-view.dto.js';
import { dispositionsView } from './disposition-view.query.js';
import { decidePropose, type Propose, type ProposeState } from './propose.decide.js';
import { unknownReport } from './report.service.js';
import { reviewRules, type RuleSince } from './review-rule.query.js';
import type { ReviewRule } from './review-rule.decide.js';
import { decideSetRule } from './set-rule.decide.js';
import type { DecisionState } from './settle.decide.js';
import type { DispositionKind } from './disposition.facts.js';

type Work = (tx: EntityManager, record: RecordFacts, decision: DecisionState, at: string) => Promise<void>;

/** What becomes of the pieces a report affects: proposed, signed, taken back; and whose signatures it waits for. */
@Injectable()
export class DispositionService {
  constructor(
    private readonly commands: Commands,
    private readonly signatures: Signatures,
    private readonly lineage: Lineage,
    private readonly reader: Reader,
  ) {}

  propose(actor: Actor, report: string, dto: ProposeDispositionDto): Promise<DispositionsView> {
    return this.on(actor, report, dto, async (tx, record, decision, at) => {
      const command: Propose = {
        kind: dto.kind,
        lot: dto.lot,
        pieces: givenSpans(dto.pieces),
        quantityMicro: givenQuantity(dto.quantity),
        reason: dto.reason,
        adverseEffect: dto.adverseEffect,
        regradeTo: dto.regradeTo,
        concession: dto.concession && { ...dto.concession },
      };
      await record([decidePropose(command, await this.#proposing(tx, decision, command, at))]);
    });
  }

  async sign(actor: Actor, report: string, disposition: number, dto: SignDispositionDto): Promise<DispositionsView> {
    const signature = await this.signatures.sign(
      actor.person,
      dto.password,
      `As ${dto.as} I approve disposition ${disposition} of ${report} as it is written`,
    );
    return this.on(actor, report, { ...dto, disposition }, async (tx, record, decision) => {
      await record([decideSign({ disposition, as: dto.as }, { ...decision, roles: actor.roles }, signature)]);
    });
  }

  withdraw(actor: Actor, report: string, disposition: number, dto: WithdrawDispositionDto): Promise<DispositionsView> {
    return this.on(actor, report, { ...dto, disposition }, async (tx, record, decision) => {
      const one = decision.report.dispositions.find((of) => of.disposition === disposition);
      const takenMicro = one === undefined ? 0 : await takenForRework(tx, this.lineage, report, one);
      await record([decideWithdrawDisposition({ disposition, reason: dto.reason }, { ...decision, takenMicro })]);
    });
  }

  async dispositions(report: string): Promise<DispositionsView> {
    const view = await dispositionsView(this.reader.manager, report);
    if (!view) throw unknownReport(report);
    return view;
  }

  async setRule(actor: Actor, dto: SetReviewRuleDto): Promise<ReviewRuleView> {
    const meaning = 'I set whose signatures dispositions of this plant wait for from now on';
    const signature = await this.signatures.sign(actor.person, dto.password, meaning);
    return this.commands.run(actor, dto, async (tx, record) => {
      const current = (await reviewRules(tx)).at(-1)!;
      await record([decideSetRule(dto, current.rule, signature)]);
      return ruleView((await reviewRules(tx)).at(-1)!);
    });
  }

  async rule(): Promise<ReviewRuleView> {
    return ruleView((await reviewRules(this.reader.manager)).at(-1)!);
  }

  /** Runs one command on a report, and answers how its dispositions stand after it. */
  on(actor: Actor, report: string, dto: object, work: Work): Promise<DispositionsView> {
    return this.commands.run(actor, { ...dto, report } as object, async (tx, record, at) => {
      const decision = await decisionState(tx, report, actor.person);
      if (!decision) throw unknownReport(report);
      await work(tx, record, decision, at);
      return (await dispositionsView(tx, report))!;
    });
  }

  async #proposing(tx: EntityManager, { report }: DecisionState, command: Propose, at: string): Promise<ProposeState> {
    const lot = (await lotStates(tx, this.lineage, [{ lot: command.lot, spans: command.pieces ?? null }])).get(command.lot);
    const codes = [...(lot ? [lot.item] : []), ...(command.regradeTo === undefined ? [] : [command.regradeTo])];
    const items = await catalogueByCode(tx, 'item', codes);
    return {
      report,
      lot,
      item: lot && items.get(lot.item),
      becomes: command.regradeTo === undefined ? undefined : items.get(command.regradeTo),
      on: at.slice(0, 10),
    };
  }
}

const ruleView = ({ rule, sinceSeq, reason, by, at }: RuleSince): ReviewRuleView => ({
  rules: (Object.entries(rule) as [DispositionKind, ReviewRule[DispositionKind]][]).map(([disposition, { functions, signers }]) => ({
    disposition,
    functions: [...functions],
    signers,
  })),
  sinceSeq,
  reason,
  by,
  at,
});
