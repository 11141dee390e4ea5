/** What can wait for a person, in the order in which it is shown: what stops harm first. */
export const WAITING_KINDS = [
  'recalls',
  'signatures',
  'overdue',
  'reports',
  'inspections',
  'releases',
  'returns',
  'holds',
  'urgent-releases',
  'instruments',
  'findings',
  'runs',
  'expiring',
  'deliveries',
] as const;
export type WaitingKind = (typeof WAITING_KINDS)[number];

/** The next step: what to do, and the page where it is done. */
export class TodayStepView {
  label: string;
  /** Kind of the record whose page it is: lot, inspection, run, hold, report, recall, returned, delivery or instrument; inspection-of: asking for one of a lot. */
  place: string;
  code: string;
}

export class TodayLineView {
  /** Kind of what waits: inspection, lot, hold, report, disposition, action, run, finding, instrument, recall, return or delivery. */
  kind: string;
  code: string;
  lot: string | null;
  item: string | null;
  itemName: string | null;
  /** Since when it waits. */
  since: string;
  /** The day by which it is due, where there is one. */
  due: string | null;
  overdue: boolean;
  /** It waits for the person who asks, and for nobody else alike. */
  mine: boolean;
  says: string;
  step: TodayStepView;
}

export class TodayGroupView {
  kind: WaitingKind;
  title: string;
  /** How many wait; of them the first 20 are listed. */
  total: number;
  /** Since when the oldest waits. */
  oldestAt: string;
  lines: TodayLineView[];
}

export class TodayView {
  now: string;
  /** Entries in the ledger. */
  entries: number;
  /** Only groups in which something waits, and only those that concern the roles of the person. */
  groups: TodayGroupView[];
}
