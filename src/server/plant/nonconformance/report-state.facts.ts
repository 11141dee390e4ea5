import type { SeverityClass } from '../catalogue/inspection-plan.facts.js';
import type { DispositionCarriedOut, DispositionSigned, DispositionTerms } from './disposition.facts.js';
import type {
  ActionDone,
  ActionPlanned,
  CauseAnalysed,
  CostRecorded,
  EffectivenessChecked,
  EffectivenessPlanned,
} from './learning.facts.js';
import type {
  AffectedPart,
  Answered,
  ConsigneeAnswered,
  ConsigneeTold,
  ReportFact,
  ReportPartJudged,
  ReportRaised,
} from './nonconformance.facts.js';
import type { ReportState } from './states.facts.js';

/** An entry about a report. */
export interface ReportEntry<F extends ReportFact = ReportFact> {
  readonly seq: number;
  readonly at: string;
  readonly actor: string;
  readonly fact: F;
}

export interface Disposition {
  readonly disposition: number;
  readonly terms: DispositionTerms;
  readonly proposedBy: string;
  readonly proposedSeq: number;
  readonly signatures: readonly ReportEntry<DispositionSigned>[];
  readonly withdrawn: string | null;
  readonly carriedOut: ReportEntry<DispositionCarriedOut> | null;
  /** The inspection that verified it. */
  readonly verifiedBy: string | null;
}

/** A report as its entries make it. */
export interface Report {
  readonly report: string;
  readonly state: ReportState;
  readonly raised: ReportEntry<ReportRaised>;
  readonly severity: SeverityClass;
  /** Everything judged affected, in the order it was. */
  readonly affected: readonly AffectedPart[];
  readonly judged: readonly ReportEntry<ReportPartJudged>[];
  /** Holds placed for it, lifted since or not. */
  readonly holds: readonly string[];
  readonly review: { readonly investigate: Answered; readonly inform: Answered; readonly by: string; readonly seq: number } | null;
  readonly told: readonly ReportEntry<ConsigneeTold>[];
  readonly answered: readonly ReportEntry<ConsigneeAnswered>[];
  readonly dispositions: readonly Disposition[];
  readonly cause: ReportEntry<CauseAnalysed> | null;
  readonly actions: readonly { readonly planned: ReportEntry<ActionPlanned>; readonly done: ReportEntry<ActionDone> | null }[];
  readonly effectiveness: {
    readonly planned: ReportEntry<EffectivenessPlanned>;
    readonly checked: ReportEntry<EffectivenessChecked> | null;
  } | null;
  readonly costs: readonly ReportEntry<CostRecorded>[];
  /** Every entry, first to last. */
  readonly entries: readonly ReportEntry[];
}

/**
 * What the entries about a report come to. Pure: the same entries give the same report, so nothing of it is kept twice.
 * @returns undefined when there is no entry that raises it
 */
export function reportOf(entries: readonly ReportEntry[]): Report | undefined {
  const [first, ...rest] = entries;
  if (first?.fact.kind !== 'ReportRaised') return undefined;
  return rest.reduce(withEntry, begun(first as ReportEntry<ReportRaised>));
}

const begun = (raised: ReportEntry<ReportRaised>): Report => ({
  report: raised.fact.report,
  state: raised.fact.state,
  raised,
  severity: raised.fact.severity,
  affected: raised.fact.parts,
  judged: [],
  holds: [],
  review: null,
  told: [],
  answered: [],
  dispositions: [],
  cause: null,
  actions: [],
  effectiveness: null,
  costs: [],
  entries: [raised],
});

function withEntry(report: Report, entry: ReportEntry): Report {
  const { fact } = entry;
  const next = { ...report, state: 'state' in fact ? fact.state : report.state, entries: [...report.entries, entry] };
  return { ...next, ...changed(next, entry) };
}

function changed(report: Report, entry: ReportEntry): Partial<Report> {
  const { fact, seq, actor } = entry;
  switch (fact.kind) {
    case 'ReportPartJudged': {
      const judged = [...report.judged, entry as ReportEntry<ReportPartJudged>];
      return fact.affected ? { judged, affected: [...report.affected, fact.part] } : { judged };
    }
    case 'ReportContained':
      return { holds: [...report.holds, ...fact.holds] };
    case 'ReportReviewed':
      return { severity: fact.severity, review: { investigate: fact.investigate, inform: fact.inform, by: actor, seq } };
    case 'ConsigneeTold':
      return { told: [...report.told, entry as ReportEntry<ConsigneeTold>] };
    case 'ConsigneeAnswered':
      return { answered: [...report.answered, entry as ReportEntry<ConsigneeAnswered>] };
    case 'CauseAnalysed':
      return { cause: entry as ReportEntry<CauseAnalysed> };
    case 'ActionPlanned':
      return { actions: [...report.actions, { planned: entry as ReportEntry<ActionPlanned>, done: null }] };
    case 'ActionDone':
      return {
        actions: report.actions.map((one) =>
          one.planned.fact.action === fact.action ? { ...one, done: entry as ReportEntry<ActionDone> } : one,
        ),
      };
    case 'EffectivenessPlanned':
      return { effectiveness: { planned: entry as ReportEntry<EffectivenessPlanned>, checked: null } };
    case 'EffectivenessChecked':
      return { effectiveness: report.effectiveness && { ...report.effectiveness, checked: entry as ReportEntry<EffectivenessChecked> } };
    case 'CostRecorded':
      return { costs: [...report.costs, entry as ReportEntry<CostRecorded>] };
    default:
      return { dispositions: withDisposition(report.dispositions, entry) };
  }
}

function withDisposition(dispositions: readonly Disposition[], entry: ReportEntry): readonly Disposition[] {
  const { fact, seq, actor } = entry;
  if (!('disposition' in fact) || fact.kind === 'CostRecorded') return dispositions;
  if (fact.kind === 'DispositionProposed') {
    const { disposition, terms } = fact;
    return [
      ...dispositions,
      { disposition, terms, proposedBy: actor, proposedSeq: seq, signatures: [], withdrawn: null, carriedOut: null, verifiedBy: null },
    ];
  }
  return dispositions.map((one) => (one.disposition === fact.disposition ? { ...one, ...step(one, entry) } : one));
}

function step(one: Disposition, entry: ReportEntry): Partial<Disposition> {
  const { fact } = entry;
  if (fact.kind === 'DispositionSigned') return { signatures: [...one.signatures, entry as ReportEntry<DispositionSigned>] };
  if (fact.kind === 'DispositionWithdrawn') return { withdrawn: fact.reason };
  if (fact.kind === 'DispositionCarriedOut') return { carriedOut: entry as ReportEntry<DispositionCarriedOut> };
  return fact.kind === 'DispositionVerified' ? { verifiedBy: fact.inspection } : {};
}
