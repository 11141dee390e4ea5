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

/** More of one kind than this are summed up, by day, month or year: the other sections name them one by one. */
const MOST_OF_A_KIND = 60;

const NOUNS: Readonly<Record<string, string>> = {
  received: 'lots received',
  made: 'lots made',
  shipped: 'lines shipped to customers',
  returned: 'lines of goods that came back',
  status: 'changes of status',
  fate: 'parts scrapped, kept or counted',
  hold: 'holds placed or lifted',
};

/** The happenings in ledger order, with those that are too many told day by day, month by month or year by year. */
export function told(happenings: readonly Happening[]): Happening[] {
  const kinds = new Map<string, Happening[]>();
  for (const happening of happenings) {
    const alike = kinds.get(happening.kind) ?? [];
    alike.push(happening);
    kinds.set(happening.kind, alike);
  }
  return [...kinds.values()]
    .flatMap((alike) => (alike.length <= MOST_OF_A_KIND ? alike : summedUp(alike)))
    .toSorted((a, b) => a.seq - b.seq || (a.what < b.what ? -1 : 1));
}

/** One for each day; for each month where that is still too many, and then for each year. */
function summedUp(alike: readonly Happening[]): Happening[] {
  for (const length of [10, 7, 4]) {
    const groups = new Map<string, { first: Happening; count: number }>();
    for (const happening of alike) {
      const key = happening.on.slice(0, length);
      const { first, count } = groups.get(key) ?? { first: happening, count: 0 };
      groups.set(key, { first: happening.seq < first.seq ? happening : first, count: count + 1 });
    }
    if (groups.size > MOST_OF_A_KIND && length > 4) continue;
    return [...groups].map(([on, { first, count }]) =>
      count === 1 ? first : { ...first, what: `${count} ${NOUNS[first.kind] ?? first.kind} ${length === 10 ? 'on' : 'in'} ${on}` },
    );
  }
  return [...alike];
}

/** A part of a lot in words: `pieces 1-240 of F-0031`, `25.5 kg of R-0007`. */
export const partInWords = (lot: string, unit: string, spans: SpanSet | null, quantityMicro: number): string =>
  spans === null ? `${formatQuantity(quantityMicro)} ${unit} of ${lot}` : `pieces ${formatSpans(spans)} of ${lot}`;
