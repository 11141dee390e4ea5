import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { type Command, Commands, type RecordFacts } from '../commands.js';
import type { Actor } from '../people/access.js';
import { Signatures } from '../people/signature.js';
import { decideAccount, decideEffectivenessCheck, decideRecallAnswer, type StatedPart } from './account.decide.js';
import { decideClosing } from './closing.decide.js';
import { decideGap, decideGapDone } from './gap.decide.js';
import { decideNotice, decideNoticeText } from './notice.decide.js';
import type {
  CloseRecallDto,
  EffectivenessCheckDto,
  GapDoneDto,
  LinkReportsDto,
  NoticeTextDto,
  RecallAccountDto,
  RecallAnswerDto,
  RecallGapDto,
  SendNoticeDto,
  StatedPartDto,
} from './progress.dto.js';
import { knownReports, ownerKnown } from './progress.query.js';
import { signedStatus, type StatusGround } from './status.js';
import type { RecallProgressView } from './status.dto.js';
import { RecallStatuses } from './status.service.js';
import type { SetStrategyDto } from './strategy.dto.js';
import { decideLinkReports, decideStrategy } from './strategy.decide.js';
import { Reasons } from '../../../../shared/refusal.js';
import { givenQuantity, givenSpans } from '../../platform/http/given.js';
import { checkOpen } from './open.decide.js';

type Work = (state: StatusGround, record: RecordFacts, tx: EntityManager, at: string) => Promise<unknown>;

const stated = (part: StatedPartDto): StatedPart => ({
  pieces: givenSpans(part.pieces),
  quantityMicro: givenQuantity(part.quantity),
});

/** What is done about a recall after its scope is frozen. Every command answers the status as it then is. */
@Injectable()
export class RecallProgress {
  constructor(
    private readonly commands: Commands,
    private readonly signatures: Signatures,
    private readonly statuses: RecallStatuses,
  ) {}

  async setStrategy(actor: Actor, recall: string, dto: SetStrategyDto): Promise<RecallProgressView> {
    const signature = await this.signatures.sign(
      actor.person,
      dto.password,
      `I answer for the hazard evaluation, class ${dto.class} and the strategy of this recall`,
    );
    const { evaluation, classReason, depth, publicWarning, level } = dto;
    const terms = {
      evaluation,
      class: dto.class,
      classReason,
      depth,
      publicWarning,
      level,
      sampleSize: dto.sampleSize ?? null,
      completionOn: dto.completionOn ?? null,
      reportEveryDays: dto.reportEveryDays ?? 14,
    };
    return this.#on(actor, recall, dto, ({ progress, accounts }, record) =>
      record([decideStrategy(terms, dto.reason, { progress, consignees: accounts.length }, signature)]),
    );
  }

  linkReports(actor: Actor, recall: string, dto: LinkReportsDto): Promise<RecallProgressView> {
    return this.#on(actor, recall, dto, async ({ progress }, record, tx) => {
      const no = new Reasons();
      checkOpen(no, progress);
      no.throwIfAny();
      await record([decideLinkReports(recall, dto.reports, await knownReports(tx, dto.reports))]);
    });
  }

  writeNotice(actor: Actor, recall: string, dto: NoticeTextDto): Promise<RecallProgressView> {
    const { subject, product, reason: hazard, stop, doWhat: action, passOn = null, replyTo } = dto;
    const parts = { subject, product, hazard, stop, action, passOn, replyTo };
    return this.#on(actor, recall, dto, ({ progress }, record) => record([decideNoticeText(parts, progress)]));
  }

  sendNotice(actor: Actor, recall: string, dto: SendNoticeDto): Promise<RecallProgressView> {
    const { customer = null, channel, contentVersion: version, nextContactOn } = dto;
    return this.#on(actor, recall, dto, (state, record, _tx, at) =>
      record([decideNotice({ customer, channel, version, nextContactOn }, known(state, at))]),
    );
  }

  answer(actor: Actor, recall: string, dto: RecallAnswerDto): Promise<RecallProgressView> {
    const { stopped, acted, passedOn = null } = dto.followedInstructions;
    const command = {
      customer: dto.customer,
      followed: { stopped, acted, passedOn },
      onHand: dto.onHand.map((part) => ({ lot: part.lot, ...stated(part) })),
      signedBy: dto.signedBy,
      answeredOn: dto.answeredOn,
      note: dto.note ?? null,
    };
    return this.#on(actor, recall, dto, (state, record, _tx, at) => record([decideRecallAnswer(command, known(state, at))]));
  }

  account(actor: Actor, recall: string, dto: RecallAccountDto): Promise<RecallProgressView> {
    const { customer, lot, evidence } = dto;
    const outcomes = {
      ...(dto.destroyed ? { destroyed: stated(dto.destroyed) } : {}),
      ...(dto.corrected ? { corrected: stated(dto.corrected) } : {}),
      ...(dto.soldOn ? { soldOn: stated(dto.soldOn) } : {}),
    };
    return this.#on(actor, recall, dto, (state, record, _tx, at) =>
      record([decideAccount({ customer, lot, outcomes, evidence }, known(state, at))]),
    );
  }

  check(actor: Actor, recall: string, dto: EffectivenessCheckDto): Promise<RecallProgressView> {
    return this.#on(actor, recall, dto, (state, record, _tx, at) => record([decideEffectivenessCheck(dto, known(state, at))]));
  }

  findGap(actor: Actor, recall: string, dto: RecallGapDto): Promise<RecallProgressView> {
    return this.#on(actor, recall, dto, async ({ progress }, record, tx) =>
      record([decideGap(dto, { progress, ownerKnown: await ownerKnown(tx, dto.owner) })]),
    );
  }

  closeGap(actor: Actor, recall: string, gap: number, dto: GapDoneDto): Promise<RecallProgressView> {
    return this.#on(actor, recall, { ...dto, gap } as GapDoneDto, ({ progress }, record) =>
      record([decideGapDone(gap, dto.done, progress)]),
    );
  }

  async close(actor: Actor, recall: string, dto: CloseRecallDto): Promise<RecallProgressView> {
    const signature = await this.signatures.sign(
      actor.person,
      dto.password,
      'I have read the status of this recall: all reasonable efforts were made, and it can be closed',
    );
    return this.#on(actor, recall, dto, (state, record) => {
      const { progress, accounts: consignees, record: shares } = state;
      const ground = { progress, consignees, record: shares, actor, status: signedStatus(state) };
      return record([decideClosing(dto, ground, signature)]);
    });
  }

  async #on(actor: Actor, recall: string, dto: Command, work: Work): Promise<RecallProgressView> {
    const { seq } = await this.commands.run(actor, { ...dto, recall } as Command, async (tx, record, at) => {
      const state = await this.statuses.ground(tx, recall);
      let last = 0;
      const recording: RecordFacts = async (facts) => {
        const entries = await record(facts);
        last = entries.at(-1)!.seq;
        return entries;
      };
      await work(state, recording, tx, at);
      return { seq: last };
    });
    return this.statuses.status(recall, seq);
  }
}

const known = ({ progress, accounts }: StatusGround, at: string) => ({ progress, consignees: accounts, at });
