import type { Reasons } from '../../../../shared/refusal.js';
import { coversSpans, type Span, type SpanSet, spanSet } from '../../../../shared/spans.js';
import type { AskCharge } from './charging.decide.js';
import type { Into } from './run.facts.js';
import { netOf, type RunState } from './run-state.facts.js';

/** Serial-numbered pieces in the order they were scanned, and the pieces of the lot being made they go into, one by one. */
interface AskFitted {
  readonly item: string;
  readonly serials: readonly string[];
  readonly intoPieces?: SpanSet | undefined;
}

/** A serial found in the record. */
export interface FoundSerial {
  readonly item: string;
  readonly serial: string;
  readonly lot: string;
  readonly piece: number;
}

interface Pair {
  readonly lot: string;
  readonly from: number;
  /** Null where nobody told into which piece it went. */
  readonly to: number | null;
}

const listPieces = (spans: SpanSet): number[] =>
  spans.flatMap(([first, last]) => Array.from({ length: last - first + 1 }, (_, i) => first + i));

/** Which piece of which lot went into which piece made. Adds a reason for each serial that is not known. */
export function pairsOf(no: Reasons, asked: AskFitted, found: readonly FoundSerial[], pointer: string): Pair[] {
  const to = asked.intoPieces === undefined ? null : listPieces(asked.intoPieces);
  if (to !== null && to.length !== asked.serials.length) {
    no.conflict('unequal-pieces', `${asked.serials.length} serials cannot go one by one into ${to.length} pieces`, {
      pointer: `${pointer}/intoPieces`,
    });
  }
  return asked.serials.flatMap((serial, i) => {
    const one = found.find((known) => known.item === asked.item && known.serial === serial);
    if (!one)
      no.unknown('serial-unknown', `there is no ${asked.item} with serial ${serial}`, { pointer: `${pointer}/serials/${i}`, serial });
    return one ? [{ lot: one.lot, from: one.piece, to: to?.[i] ?? null }] : [];
  });
}

/** Pairs that run on together become one stretch: piece 4 into 7 and 5 into 8 is 4-5 into 7-8. */
export function stretchesOf(pairs: readonly { readonly from: number; readonly to: number }[]): Into[] {
  const into: { fromSpan: Span; toSpan: Span; map: 'each' }[] = [];
  for (const { from, to } of pairs.toSorted((a, b) => a.from - b.from || a.to - b.to)) {
    const last = into.at(-1);
    if (last && from === last.fromSpan[1] + 1 && to === last.toSpan[1] + 1) {
      into[into.length - 1] = { fromSpan: [last.fromSpan[0], from], toSpan: [last.toSpan[0], to], map: 'each' };
    } else {
      into.push({ fromSpan: [from, from], toSpan: [to, to], map: 'each' });
    }
  }
  return into;
}

/** A charge given by serials, as one charge for each lot they are of. */
export function chargesBySerial(
  no: Reasons,
  asked: AskFitted,
  found: readonly FoundSerial[],
  rest: Omit<AskCharge, 'lot' | 'spans' | 'quantityMicro'>,
  pointer: string,
): AskCharge[] {
  const pairs = pairsOf(no, asked, found, pointer);
  if (new Set(asked.serials).size !== asked.serials.length)
    no.conflict('serial-twice', 'a serial is named twice', { pointer: `${pointer}/serials` });
  return [...new Set(pairs.map(({ lot }) => lot))].map((lot) => {
    const ofLot = pairs.filter((pair) => pair.lot === lot);
    const into = stretchesOf(ofLot.flatMap(({ from, to }) => (to === null ? [] : [{ from, to }])));
    return { ...rest, intoPieces: undefined, map: undefined, lot, spans: spanSet(ofLot.map(({ from }): Span => [from, from])), into };
  });
}

/** Pieces fitted that are told at closing, each with the charge they came by. */
export function fittedByCharge(
  no: Reasons,
  run: RunState,
  asked: AskFitted,
  found: readonly FoundSerial[],
  pointer: string,
): { charge: number; into: Into[] }[] {
  const byCharge = new Map<number, { from: number; to: number }[]>();
  for (const { lot, from, to } of pairsOf(no, asked, found, pointer)) {
    const charge = run.charges.find((one) => one.lot === lot && coversSpans(netOf(one).spans ?? [], [[from, from]]));
    if (!charge) no.conflict('not-charged', `piece ${from} of ${lot} was not charged to ${run.run}`, { pointer, lot });
    else if (to !== null) byCharge.set(charge.charge, [...(byCharge.get(charge.charge) ?? []), { from, to }]);
  }
  return [...byCharge].map(([charge, pairs]) => ({ charge, into: stretchesOf(pairs) }));
}
