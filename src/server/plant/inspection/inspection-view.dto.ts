import type { Occasion, Verdict } from './inspection.facts.js';

/** One line of the queue. */
export class InspectionLineView {
  inspection: string;
  lot: string;
  item: string;
  /** Null: a bulk lot as a whole. */
  pieces: string | null;
  lotSize: number | null;
  occasion: Occasion;
  /** Delivery, run or return it was opened for. */
  source: string | null;
  /** Null: made here. */
  supplier: string | null;
  state: 'waiting' | 'begun' | 'decided' | 'skipped' | 'called-off';
  verdict: Verdict | null;
  openedAt: string;
  openedSeq: number;
  /** Why it comes before older ones; null where nothing presses. */
  urgent: string | null;
  endedAt: string | null;
}

/** One line of the queue, and how far it is. */
export class QueuedInspectionView extends InspectionLineView {
  /** Who began, tallied, measured or decided. */
  people: string[];
  /** Under way: the verdict as the plan gives it now; null while it is open. */
  computed: Verdict | null;
  /** Under way: items still to look at. */
  toInspect: number | null;
  /** Under way: what is still missing, in words. */
  missing: string[];
}

/** The numbers of a plan: a single one has n, ac and re; a double one the others. */
export class PlanNumbersView {
  letter: string;
  n?: number;
  ac?: number;
  re?: number;
  n1?: number;
  ac1?: number;
  re1?: number;
  n2?: number;
  ac2?: number;
  re2?: number;
}

/** How one class is judged and how it stands. */
export class ClassView {
  class: 'critical' | 'major' | 'minor';
  aql: string | null;
  severity: 'normal' | 'tightened' | 'reduced' | null;
  /** Null for critical: one found is enough. */
  plan: PlanNumbersView | null;
  /** Counted in the first sample, and in both. */
  found: number[];
  /** Acceptance and rejection number that count now. */
  ac: number;
  re: number;
  standing: 'open' | 'second-sample' | 'accepted' | 'not-accepted';
  because: string;
  /** How the plan was come to: arrows followed, the larger sample of another class. */
  planBecause: string[];
  /** What of the plan no readable source confirms. */
  unverified: string | null;
}

/** What is taken. */
export class SampleView {
  edition: string;
  level: string;
  type: 'single' | 'double';
  basis: 'items' | 'nonconformities';
  codeLetter: string;
  first: number;
  /** Null: there is no second sample. */
  second: number | null;
  /** Why every item is inspected; null when a sample is. */
  inspectAllBecause: string | null;
}

export class FigureView {
  name: string;
  words: string;
  value: string;
  unit?: string;
}

export class MeasuredView {
  characteristic: string;
  /** As read, a line a reading. */
  inputs: Record<string, string>[];
  value: string;
  unit: string;
  within: boolean;
  fault: string | null;
  figures: FigureView[];
  cautions: string[];
  instrument: string | null;
  procedure: string | null;
}

export class FoundView {
  defect: string | null;
  characteristic: string | null;
  class: 'critical' | 'major' | 'minor';
  count: number;
}

export class InspectedItemView {
  piece: number | null;
  found: FoundView[];
  measured: MeasuredView[];
  files: string[];
  note: string | null;
}

export class TallyView {
  tally: number;
  sample: number;
  conforming: number;
  items: InspectedItemView[];
  by: string;
  at: string;
  seq: number;
  /** Why it was taken back; null while it counts. */
  takenBack: string | null;
}

export class ResultView extends MeasuredView {
  result: number;
  by: string;
  measuredAt: string;
  seq: number;
  retestOf: number | null;
  reason: string | null;
  /** Whether a retest follows it. */
  followed: boolean;
  /** SHA-256 of stored files: a printout, a photograph. */
  files: string[];
}

/** A characteristic of the plan, with its limits. */
export class CharacteristicView {
  code: string;
  name: string;
  kind: 'attribute' | 'measured';
  class: 'critical' | 'major' | 'minor';
  per: 'lot' | 'item' | null;
  unit: string | null;
  lower: string | null;
  upper: string | null;
  target: string | null;
  replicates: number | null;
  /** What is entered for each reading. */
  columns: string[];
  required: boolean;
  /** Per item: how many of the sample are measured; null: all of them. */
  items: number | null;
  /** How the result is rounded, once, at the end; null for an attribute. */
  rounding: string | null;
  instrumentKind: string | null;
  /** Whether a result names its instrument. */
  instrumentRequired: boolean;
  defect: string | null;
  procedure: string | null;
}

/** An inspection with its plan, what was found, and where it stands. */
export class InspectionView extends InspectionLineView {
  planRevision: number;
  resubmits: string | null;
  /** Null: not begun, or only tests of the lot. Before it begins, what it would be now. */
  sample: SampleView | null;
  /** Whether the sample is fixed; false: what it would be if it began now. */
  begun: boolean;
  classes: ClassView[];
  characteristics: CharacteristicView[];
  /** Items looked at in the first and in the second sample. */
  inspected: number[];
  toInspect: number;
  secondSample: boolean;
  /** What is still missing, in words. */
  missing: string[];
  /** Tests out of their limits, in words. */
  failed: string[];
  nonconforming: number;
  /** The verdict as the plan gives it now; null while it is open. */
  computed: Verdict | null;
  curtailed: boolean;
  tallies: TallyView[];
  results: ResultView[];
  /** Holds this inspection has placed. */
  holds: string[];
  /** How it ended, in words; null while it is open. */
  ended: EndedView | null;
  /** What the sample cannot tell. */
  caution: string;
}

/** How an inspection ended. */
export class EndedView {
  seq: number;
  at: string;
  by: string;
  /** Why a person was stricter than the plan. */
  stricter: string | null;
  /** Why it was skipped or called off. */
  reason: string | null;
  switched: SwitchedView[];
}

export class SwitchedView {
  class: 'major' | 'minor';
  plan: string;
  before: string;
  after: string;
  because: string[];
}
