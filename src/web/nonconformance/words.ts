import { capital, inWords } from '../../../shared/written.js';
import type { View } from '../wire/client.js';

export type ReportState = View<'ReportLineView'>['state'];
export type Severity = View<'ReportLineView'>['severity'];
export type Source = View<'ReportLineView'>['source'];
export type DispositionKind = View<'DispositionView'>['kind'];
export type Relation = View<'ProposalView'>['relation'];

export const SEVERITIES: readonly Severity[] = ['critical', 'major', 'minor'];

/** The way of a report, in its order; withdrawn is beside it. */
export const WAY: readonly ReportState[] = ['raised', 'contained', 'reviewed', 'dispositioned', 'carried-out', 'verified', 'closed'];

const OPEN_STATES: readonly ReportState[] = WAY.slice(0, -1);

export const isOpen = (state: ReportState): boolean => OPEN_STATES.includes(state);

/** A word with a capital, as it begins a line. */
export const asTitle = (code: string): string => capital(inWords(code));

interface Waiting {
  readonly what: string;
  readonly who: string;
}

/** What a report in each state waits for, and whose turn it is. */
const WAITS: Readonly<Record<ReportState, Waiting>> = {
  raised: { what: 'containment', who: 'quality' },
  contained: { what: 'review', who: 'quality' },
  reviewed: { what: 'dispositions and their signatures', who: 'quality and other signers' },
  dispositioned: { what: 'carrying out', who: 'the floor' },
  'carried-out': { what: 'inspection after the rework', who: 'inspectors' },
  verified: { what: 'what was learned, and closing', who: 'quality' },
  closed: { what: 'nothing', who: '' },
  withdrawn: { what: 'nothing', who: '' },
};

export const waitsFor = (state: ReportState): Waiting => WAITS[state];

interface KindWords {
  readonly value: DispositionKind;
  readonly says: string;
  /** What is done, in a sentence: `80 pieces are scrapped`. */
  readonly done: string;
  readonly means: string;
}

/** What can become of nonconforming pieces, as the plant says it. */
export const KINDS: readonly KindWords[] = [
  {
    value: 'concession',
    says: 'Use as is, under a concession',
    done: 'used as is under a concession',
    means: 'Stays as it is. Somebody with the authority takes responsibility, up to a quantity and a last day.',
  },
  { value: 'rework', says: 'Rework', done: 'reworked', means: 'Worked on until it meets the requirement; inspected again.' },
  {
    value: 'repair',
    says: 'Repair',
    done: 'repaired',
    means: 'Made fit for use, though it will not meet the requirement; inspected again.',
  },
  { value: 'regrade', says: 'Regrade', done: 'regraded', means: 'Becomes a lot of another item whose requirements it meets.' },
  { value: 'scrap', says: 'Scrap', done: 'scrapped', means: 'Put beyond use. It does not come back.' },
  {
    value: 'return-to-supplier',
    says: 'Return to the supplier',
    done: 'returned to the supplier',
    means: 'Goes back; only what a supplier delivered.',
  },
  {
    value: 'sort',
    says: 'Sort',
    done: 'sorted',
    means: 'Every item is inspected: what conforms is let go, the rest waits for another disposition.',
  },
];

export const kindWords = (kind: DispositionKind): KindWords => KINDS.find(({ value }) => value === kind) ?? KINDS[0]!;

const RELATIONS: Readonly<Record<Relation, string>> = {
  'same-lot': 'same lot',
  'made-from-it': 'made from it',
  'same-input': 'shares an input',
  'same-vessel': 'same vessel, not cleaned between',
  'same-instrument': 'judged by the same instrument',
  other: 'another reason',
};

export const relationWords = (relation: Relation): string => RELATIONS[relation];

export const RELATION_CHOICES = (Object.keys(RELATIONS) as Relation[]).map((value) => ({ value, says: RELATIONS[value] }));

export const SOURCES: readonly { readonly value: Source; readonly says: string; readonly code: string | null }[] = [
  { value: 'delivery', says: 'On a delivery', code: 'Delivery' },
  { value: 'inspection', says: 'In an inspection', code: 'Inspection' },
  { value: 'test', says: 'In a test', code: 'Inspection that holds the test' },
  { value: 'run', says: 'In production', code: 'Run' },
  { value: 'unit', says: 'On one unit', code: 'Serial' },
  { value: 'instrument', says: 'On an instrument', code: 'Instrument' },
  { value: 'return', says: 'On goods that came back', code: 'Return' },
  { value: 'complaint', says: 'By a complaint', code: 'Number of the complaint' },
  { value: 'audit', says: 'In an audit', code: 'Number of the audit' },
];

/** Where a source of a report has its page. */
export const SOURCE_KIND: Readonly<Partial<Record<Source, 'delivery' | 'inspection' | 'run' | 'instrument' | 'returned'>>> = {
  delivery: 'delivery',
  inspection: 'inspection',
  test: 'inspection',
  run: 'run',
  instrument: 'instrument',
  return: 'returned',
};
