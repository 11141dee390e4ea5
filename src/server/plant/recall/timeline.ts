import { formatQuantity } from '../../../../shared/quantity.js';
import { formatSpans, type SpanSet } from '../../../../shared/spans.js';

/** Something that happened to affected goods, before it is known who recorded it and when. */
export interface Happening {
  readonly seq: number;
  /** What it is among its kind, for summing up: `received`, `shipped`, … */
  readonly kind: string;
  /** The day it is told under when summed up: a calendar date. */
  readonly on: string;
  readonly what: string;
}

/** More of one kind than this are summed up by day: the other sections name them one by one. */
const MOST_OF_A_KIND = 60;

const NOUNS: Readonly<Record<string, string>> = {
  received: 'lots received',
  made: 'lots made',
  shipped: 'lines shipped to customers',
  returned: 'lines of goods that came back',
  status: 'changes of status',
  fate: 'parts scrapped, kept or counted',
};

/** The happenings in ledger order, with those that are too many told day by day. */
export function told(happenings: readonly Happening[]): Happening[] {
  const counts = new Map<string, number>();
  for (const { kind } of happenings) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  const single: Happening[] = [];
  const days = new Map<string, Happening[]>();
  for (const happening of happenings) {
    if (counts.get(happening.kind)! <= MOST_OF_A_KIND) single.push(happening);
    else {
      const key = `${happening.kind}\u0000${happening.on}`;
      days.set(key, [...(days.get(key) ?? []), happening]);
    }
  }
  const summed = [...days.values()].map((day): Happening => {
    const first = day.reduce((least, each) => (each.seq < least.seq ? each : least));
    return day.length === 1 ? first : { ...first, what: `${day.length} ${NOUNS[first.kind] ?? first.kind} on ${first.on}` };
  });
  return [...single, ...summed].toSorted((a, b) => a.seq - b.seq || (a.what < b.what ? -1 : 1));
}

/** A part of a lot in words: `pieces 1-240 of F-0031`, `25.5 kg of R-0007`. */
export const partInWords = (lot: string, unit: string, spans: SpanSet | null, quantityMicro: number): string =>
  spans === null ? `${formatQuantity(quantityMicro)} ${unit} of ${lot}` : `pieces ${formatSpans(spans)} of ${lot}`;
