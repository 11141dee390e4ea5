import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { Reasons, Refusal } from '../../../../shared/refusal.js';
import { givenQuantity, givenSpans } from '../../platform/http/given.js';
import { Reader } from '../../platform/database/reader.js';
import { Lineage } from '../../trace/lineage.js';
import { TraceService } from '../../trace/trace.service.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { Commands, type RecordFacts } from '../commands.js';
import { knownFiles } from '../files/files.query.js';
import type { Actor } from '../people/access.js';
import { Signatures } from '../people/signature.js';
import { nextDocument, nextDocuments } from '../stock/codes.query.js';
import { lotStates } from '../stock/lot-state.query.js';
import { ReportConsignees } from './consignees.service.js';
import { type ContainState, decideContain, decideJudge, isContained } from './contain.decide.js';
import type { NeedState } from './needs.decide.js';
import { type AskedPart, decideRaise, type Raise } from './raise.decide.js';
import { foundAtInspection, personKnown, sourceKnown } from './raise.query.js';
import { openHoldsOf } from './report-holds.query.js';
import type { Report } from './report-state.facts.js';
import { reportLines, ReportViews } from './report-view.service.js';
import type { ReportLineView, ReportView } from './report-view.dto.js';
import type {
  AffectedPartDto,
  ConsigneeAnswerDto,
  ContainReportDto,
  DecideReportDto,
  JudgePartDto,
  RaiseReportDto,
  ReportQueryDto,
  ReviewReportDto,
  TellConsigneeDto,
} from './report.dto.js';
import { reportState } from './report.query.js';
import { decideAnswer, decideReopen, decideReview, decideTell, decideWithdraw } from './review.decide.js';

export const unknownReport = (report: string): Refusal =>
  new Refusal('unknown', [{ code: 'report-unknown', detail: `no nonconformance report ${report}`, report }]);

type Work = (tx: EntityManager, record: RecordFacts, report: Report, at: string) => Promise<void>;

const asked = (part: AffectedPartDto): AskedPart => ({
  lot: part.lot,
  pieces: givenSpans(part.pieces),
  quantityMicro: givenQuantity(part.quantity),
});

/** Nonconformance reports up to their dispositions: raised, judged, contained, reviewed, withdrawn. */
@Injectable()
export class ReportService {
  constructor(
    private readonly commands: Commands,
    private readonly signatures: Signatures,
    private readonly lineage: Lineage,
    private readonly traces: TraceService,
    private readonly consignees: ReportConsignees,
    private readonly views: ReportViews,
    private readonly reader: Reader,
  ) {}

  async raise(actor: Actor, dto: RaiseReportDto): Promise<ReportView> {
    const traced = dto.fromTrace === undefined ? [] : await this.#traced(dto);
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const command = await raiseCommand(tx, actor, dto, traced, at);
      const report = await nextDocument(tx, 'report', 'NC');
      const lots = await this.#lots(tx, command.parts);
      const defects = command.defects.map((one) => one.defect);
      const fact = decideRaise(command, {
        report,
        at,
        lots,
        defects: await catalogueByCode(tx, 'defect', defects),
        knownFiles: await knownFiles(tx, command.files),
        finderKnown: await personKnown(tx, command.foundBy),
        sourceKnown: await sourceKnown(tx, command.source.kind, command.source.code),
      });
      await record([fact]);
      return (await this.views.view(tx, report))!;
    });
  }

  judge(actor: Actor, report: string, dto: JudgePartDto): Promise<ReportView> {
    return this.#on(actor, report, dto, async (tx, record, state) => {
      const command = { ...asked(dto), relation: dto.relation, affected: dto.affected, reason: dto.reason };
      await record(decideJudge(command, await this.#containing(tx, state, [command]), actor.person));
    });
  }

  async contain(actor: Actor, report: string, dto: ContainReportDto): Promise<ReportView> {
    const signature = await this.signatures.sign(
      actor.person,
      dto.password,
      'I stop everything that this report affects and what was made from it',
    );
    return this.#on(actor, report, dto, async (tx, record, state) => {
      const owner = dto.owner ?? actor.person;
      if (!(await personKnown(tx, owner))) {
        throw new Refusal('unknown', [{ code: 'person-unknown', detail: `no person ${owner} to own the hold`, pointer: '/owner' }]);
      }
      await record(decideContain({ note: dto.reason, owner }, await this.#containing(tx, state, []), signature));
    });
  }

  async review(actor: Actor, report: string, dto: ReviewReportDto): Promise<ReportView> {
    const signature = await this.signatures.sign(
      actor.person,
      dto.password,
      'I have reviewed this nonconformity and answer for what is to follow from it',
    );
    return this.#on(actor, report, dto, async (tx, record, state) => {
      await record([decideReview(dto, state, await needsOf(tx, state), signature)]);
    });
  }

  async withdraw(actor: Actor, report: string, dto: DecideReportDto): Promise<ReportView> {
    const signature = await this.signatures.sign(actor.person, dto.password, 'I withdraw this report: there was no nonconformity');
    return this.#on(actor, report, dto, async (tx, record, state) => {
      const withdrawn = decideWithdraw(dto.reason, state, await needsOf(tx, state), signature);
      const holds = [...new Set((await openHoldsOf(tx, state)).map((one) => one.hold))];
      const lifted = holds.map(
        (hold) => ({ kind: 'HoldLifted', v: 1, hold, reason: `${report} withdrawn: ${dto.reason}`, signature }) as const,
      );
      await record([withdrawn, ...lifted]);
    });
  }

  async reopen(actor: Actor, report: string, dto: DecideReportDto): Promise<ReportView> {
    const signature = await this.signatures.sign(actor.person, dto.password, 'I open this report again');
    return this.#on(actor, report, dto, async (tx, record, state) => {
      await record([decideReopen(dto.reason, state, await needsOf(tx, state), signature)]);
    });
  }

  tell(actor: Actor, report: string, dto: TellConsigneeDto): Promise<ReportView> {
    return this.#on(actor, report, dto, async (tx, record, state, at) => {
      const { customer, channel, what, toldAt = at } = dto;
      const consignees = await this.consignees.customersOf(tx, state);
      await record([decideTell({ customer, channel, what, toldAt }, { report: state, consignees, at })]);
    });
  }

  answer(actor: Actor, report: string, dto: ConsigneeAnswerDto): Promise<ReportView> {
    return this.#on(actor, report, dto, async (tx, record, state, at) => {
      const { customer, answer, answeredAt = at } = dto;
      const consignees = await this.consignees.customersOf(tx, state);
      await record([decideAnswer({ customer, answer, answeredAt }, { report: state, consignees, at })]);
    });
  }

  list(query: ReportQueryDto): Promise<ReportLineView[]> {
    return reportLines(this.reader.manager, query);
  }

  async report(report: string): Promise<ReportView> {
    const view = await this.views.view(this.reader.manager, report);
    if (!view) throw unknownReport(report);
    return view;
  }

  #on(actor: Actor, report: string, dto: object, work: Work): Promise<ReportView> {
    return this.commands.run(actor, { ...dto, report } as object, async (tx, record, at) => {
      const state = await reportState(tx, report);
      if (!state) throw unknownReport(report);
      await work(tx, record, state, at);
      return (await this.views.view(tx, report))!;
    });
  }

  #lots(tx: EntityManager, parts: readonly { readonly lot: string }[]) {
    return lotStates(
      tx,
      this.lineage,
      [...new Set(parts.map(({ lot }) => lot))].map((lot) => ({ lot, spans: null })),
    );
  }

  async #containing(tx: EntityManager, report: Report, more: readonly { readonly lot: string }[]): Promise<ContainState> {
    const [first, second] = await nextDocuments(tx, 'hold', 'H', 2);
    return {
      report,
      holds: await openHoldsOf(tx, report),
      lots: await this.#lots(tx, [...report.affected, ...more]),
      numbers: [first!, second!],
    };
  }

  /** Everything a trace reaches, its origin included. */
  async #traced({ fromTrace }: RaiseReportDto): Promise<AskedPart[]> {
    const { traced } = await this.traces.walk({ ...fromTrace, direction: 'forward' });
    const { cards } = this.traces;
    return traced.lots.map(({ lot, spans }) => ({ lot: cards[lot]!.lot, pieces: spans ?? undefined, ifLeft: true }));
  }
}

async function needsOf(tx: EntityManager, report: Report): Promise<NeedState> {
  return { lacking: new Map(), contained: isContained(report, await openHoldsOf(tx, report)) };
}

/** What was asked, with what an inspection gives where something was left out. */
async function raiseCommand(
  tx: EntityManager,
  actor: Actor,
  dto: RaiseReportDto,
  traced: readonly AskedPart[],
  at: string,
): Promise<Raise> {
  const inspected = dto.fromInspection === undefined ? undefined : await foundAtInspection(tx, dto.fromInspection);
  const no = new Reasons();
  if (dto.fromInspection !== undefined && inspected === undefined) {
    no.unknown('inspection-unknown', `no inspection ${dto.fromInspection}`, { pointer: '/fromInspection' });
  }
  const named = dto.parts?.map(asked) ?? (inspected === undefined ? [] : inspected.parts);
  const parts = [...named, ...traced.filter((part) => !named.some((one) => one.lot === part.lot))];
  const source = dto.source ?? inspected?.source;
  const requirement = dto.requirement ?? inspected?.requirement;
  const found = dto.found ?? inspected?.found;
  const severity = dto.severity ?? inspected?.severity;
  if (source === undefined) no.malformed('source-missing', 'say where it was found', { pointer: '/source' });
  if (requirement === undefined) no.malformed('requirement-missing', 'say which requirement is not met', { pointer: '/requirement' });
  if (found === undefined) no.malformed('finding-missing', 'say what was found', { pointer: '/found' });
  if (severity === undefined) no.malformed('severity-missing', 'grade it: critical, major or minor', { pointer: '/severity' });
  if (parts.length === 0) no.malformed('parts-missing', 'name what is affected', { pointer: '/parts' });
  no.throwIfAny();
  return {
    source: { kind: source!.kind, code: source!.code ?? null },
    requirement: requirement!,
    found: found!,
    defects: dto.defects?.map(({ defect, count = 1 }) => ({ defect, count })) ?? inspected?.defects ?? [],
    measured: dto.measured ?? inspected?.measured ?? [],
    files: dto.files ?? inspected?.files ?? [],
    severity: severity!,
    foundBy: dto.foundBy ?? actor.person,
    foundAt: dto.foundAt ?? at,
    parts,
  };
}
