import { Inject, Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { Clock } from '../../platform/clock.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { Reader } from '../../platform/database/reader.js';
import { Lineage } from '../../trace/lineage.js';
import { Commands, type RecordFacts } from '../commands.js';
import { knownFiles } from '../files/files.query.js';
import type { Actor } from '../people/access.js';
import { Signatures } from '../people/signature.js';
import { decisionState } from './disposition.query.js';
import { decideCheckEffectiveness } from './effectiveness.decide.js';
import { decideActionDone, decideCause, decidePlanAction, decidePlanEffectiveness, decideRecordCost } from './learning.decide.js';
import type {
  ActionDoneDto,
  AnalyseCauseDto,
  CheckEffectivenessDto,
  PlanActionDto,
  PlanEffectivenessDto,
  RecordCostDto,
} from './learning.dto.js';
import type { LearningView } from './learning-view.dto.js';
import { learningView, ownerOf } from './learning-view.query.js';
import { holdsState } from './outcome.query.js';
import { unknownReport } from './report.service.js';
import type { DecisionState } from './settle.decide.js';

type Work = (tx: EntityManager, record: RecordFacts, decision: DecisionState, today: string) => Promise<void>;

/** Cause, actions, whether they worked, and what it all cost. */
@Injectable()
export class LearningService {
  constructor(
    private readonly commands: Commands,
    private readonly signatures: Signatures,
    private readonly lineage: Lineage,
    private readonly reader: Reader,
    @Inject(Clock) private readonly clock: Clock,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  analyse(actor: Actor, report: string, dto: AnalyseCauseDto): Promise<LearningView> {
    const { whys, categories, conclusion } = dto;
    return this.#on(actor, report, dto, async (_tx, record, decision) => {
      await record([decideCause({ whys, categories, conclusion }, decision.report)]);
    });
  }

  plan(actor: Actor, report: string, dto: PlanActionDto): Promise<LearningView> {
    const { kind: actionKind, what, owner, dueOn } = dto;
    return this.#on(actor, report, dto, async (tx, record, decision, today) => {
      const state = { report: decision.report, owner: await ownerOf(tx, owner), today };
      await record([decidePlanAction({ actionKind, what, owner, dueOn }, state)]);
    });
  }

  done(actor: Actor, report: string, action: number, dto: ActionDoneDto): Promise<LearningView> {
    const { evidence, files = [] } = dto;
    return this.#on(actor, report, { ...dto, action }, async (tx, record, decision) => {
      const state = { report: decision.report, stored: await knownFiles(tx, files), actor: actor.person, roles: actor.roles };
      await record([decideActionDone({ action, evidence, files }, state)]);
    });
  }

  planCheck(actor: Actor, report: string, dto: PlanEffectivenessDto): Promise<LearningView> {
    const { criterion, checkOn } = dto;
    return this.#on(actor, report, dto, async (_tx, record, decision, today) => {
      await record([decidePlanEffectiveness({ criterion, checkOn }, decision.report, today)]);
    });
  }

  async check(actor: Actor, report: string, dto: CheckEffectivenessDto): Promise<LearningView> {
    const { effective, harm, evidence, files = [], reason } = dto;
    const meaning = effective
      ? 'I have checked by the criterion set for it that the corrective action works, and whether it did harm; with nothing else left, it closes the report'
      : 'I have checked by the criterion set for it that the corrective action does not work, and whether it did harm';
    const signature = await this.signatures.sign(actor.person, dto.password, meaning);
    return this.#on(actor, report, dto, async (tx, record, decision, today) => {
      const outcome = await holdsState(tx, this.lineage, decision.report);
      const state = { ...decision, outcome, stored: await knownFiles(tx, files), today };
      await record(decideCheckEffectiveness({ effective, harm, evidence, files, reason }, state, signature));
    });
  }

  cost(actor: Actor, report: string, dto: RecordCostDto): Promise<LearningView> {
    const { disposition = null, kind: costKind, minor, note = null } = dto;
    return this.#on(actor, report, dto, async (_tx, record, decision) => {
      await record([decideRecordCost({ disposition, costKind, minor, note }, decision.report)]);
    });
  }

  async learning(report: string): Promise<LearningView> {
    const view = await learningView(this.reader.manager, report, this.#shown(this.clock.now()));
    if (!view) throw unknownReport(report);
    return view;
  }

  #on(actor: Actor, report: string, dto: object, work: Work): Promise<LearningView> {
    return this.commands.run(actor, { ...dto, report } as object, async (tx, record, at) => {
      const decision = await decisionState(tx, report, actor.person);
      if (!decision) throw unknownReport(report);
      const shown = this.#shown(at);
      await work(tx, record, decision, shown.today);
      return (await learningView(tx, report, shown))!;
    });
  }

  #shown(at: string): { today: string; currency: string } {
    return { today: at.slice(0, 10), currency: this.config.currency };
  }
}
