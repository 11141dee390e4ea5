import { formatQuantity, MICRO } from '../../../../shared/quantity.js';
import type { Reasons } from '../../../../shared/refusal.js';
import { countPieces, formatSpans, intersectSpans, type SpanSet, subtractSpans, wholeLot } from '../../../../shared/spans.js';
import type { Fate, Movement, Place } from './effects.facts.js';
import { heldAt, type LotState } from './lot-state.facts.js';

/** A part of a lot as a command names it: pieces of a numbered lot, a quantity of a bulk one. */
export interface PartAsked {
  readonly spans?: SpanSet | undefined;
  readonly quantityMicro?: number | undefined;
}

/** The part, settled: spans are null for a bulk lot. Quantity in millionths of the lot's unit. */
export interface Part {
  readonly spans: SpanSet | null;
  readonly quantityMicro: number;
}

/**
 * Settles which part of the lot is meant; adds a reason and answers null where it cannot be told.
 * @see docs/rules/stock.md S-1, S-2
 */
export function settlePart(no: Reasons, lot: LotState, asked: PartAsked, pointer = ''): Part | null {
  if (lot.pieces !== null) return settlePieces(no, lot, lot.pieces, asked, pointer);
  if (asked.spans !== undefined) {
    no.conflict('no-pieces-here', `${lot.lot} is bulk and has no pieces: give a quantity`, { pointer: `${pointer}/pieces`, lot: lot.lot });
    return null;
  }
  if (asked.quantityMicro === undefined) {
    no.malformed('quantity-missing', `how much of ${lot.lot}, in ${lot.unit}?`, { pointer: `${pointer}/quantity` });
    return null;
  }
  if (asked.quantityMicro <= 0) {
    no.malformed('quantity-not-positive', 'a quantity is more than nothing', { pointer: `${pointer}/quantity` });
    return null;
  }
  if (lot.unit === 'each' && asked.quantityMicro % MICRO !== 0) {
    no.malformed('not-whole', `${lot.lot} is counted: give a whole number`, { pointer: `${pointer}/quantity` });
    return null;
  }
  return { spans: null, quantityMicro: asked.quantityMicro };
}

function settlePieces(no: Reasons, lot: LotState, pieces: number, asked: PartAsked, pointer: string): Part | null {
  if (asked.quantityMicro !== undefined) {
    no.conflict('pieces-not-quantity', `${lot.lot} has numbered pieces: say which, not how many`, {
      pointer: `${pointer}/quantity`,
      lot: lot.lot,
    });
    return null;
  }
  if (asked.spans === undefined) {
    no.malformed('pieces-missing', `which pieces of ${lot.lot}? It has 1-${pieces}`, { pointer: `${pointer}/pieces` });
    return null;
  }
  if (!checkInside(no, lot, asked.spans, pointer)) return null;
  return { spans: asked.spans, quantityMicro: countPieces(asked.spans) * MICRO };
}

/** Whether the pieces are among those of a numbered lot; adds a reason if not. */
export function checkInside(no: Reasons, lot: LotState, spans: SpanSet, pointer = ''): boolean {
  const outside = subtractSpans(spans, wholeLot(lot.pieces ?? 0));
  if (outside.length === 0) return true;
  no.conflict('pieces-outside-lot', `${lot.lot} has pieces 1-${lot.pieces}: it has no ${formatSpans(outside)}`, {
    pointer: `${pointer}/pieces`,
    lot: lot.lot,
    pieces: formatSpans(outside),
  });
  return false;
}

const FATE_WORDS: Readonly<Record<Fate, string>> = {
  'on-hand': 'at',
  consumed: 'consumed in',
  dispatched: 'dispatched in',
  scrapped: 'scrapped by',
  retained: 'kept as retain sample at',
  'destroyed-in-test': 'destroyed in test',
  'returned-to-supplier': 'returned to the supplier by',
  'count-difference': 'missing since count',
};

/** A place in words, as `at B-02` or `dispatched in S-0007`. */
export const placeWords = (place: Place): string => `${FATE_WORDS[place.fate]} ${place.at}`;

/** Where pieces of a lot are, in words, place by place. */
export const whereabouts = (lot: LotState, spans: SpanSet): string =>
  lot.places
    .map((part) => ({ place: part.place, pieces: intersectSpans(part.spans ?? [], spans) }))
    .filter(({ pieces }) => pieces.length > 0)
    .map(({ place, pieces }) => `${formatSpans(pieces)} ${placeWords(place)}`)
    .join(', ');

/**
 * Adds a reason where the part is not at the place; quality status and holds do not matter here, for segregation and scrap move
 * what may not be used. `at` undefined: anywhere on hand.
 * @see docs/rules/stock.md S-3
 */
export function checkThere(no: Reasons, lot: LotState, part: Part, from: { readonly fate: Fate; readonly at: string | undefined }): void {
  const there = heldAt(lot, from.fate, from.at);
  const where = from.at === undefined ? 'on hand' : placeWords({ fate: from.fate, at: from.at });
  if (part.spans !== null) {
    const missing = subtractSpans(part.spans, there.spans ?? []);
    if (missing.length === 0) return;
    no.conflict('pieces-not-there', `pieces of ${lot.lot} are not ${where}: ${whereabouts(lot, missing)}`, {
      lot: lot.lot,
      pieces: formatSpans(missing),
    });
    return;
  }
  if (part.quantityMicro <= there.quantityMicro) return;
  const left = formatQuantity(there.quantityMicro);
  const asked = formatQuantity(part.quantityMicro);
  no.conflict('not-enough-left', `${lot.lot} has ${left} ${lot.unit} ${where}, ${asked} asked for`, { lot: lot.lot, left, asked });
}

/** The movements that take a part from where it lies in one fate, place by place in order of their codes, to one place. */
export function takeFrom(lot: LotState, part: Part, from: { readonly fate: Fate; readonly at: string | undefined }, to: Place): Movement[] {
  const moved: Movement[] = [];
  let { spans, quantityMicro } = part;
  for (const here of lot.places) {
    if (here.place.fate !== from.fate || (from.at !== undefined && here.place.at !== from.at)) continue;
    if (spans !== null) {
      const taken = intersectSpans(spans, here.spans ?? []);
      if (taken.length === 0) continue;
      spans = subtractSpans(spans, taken);
      moved.push({ lot: lot.lot, spans: taken, quantityMicro: countPieces(taken) * MICRO, from: here.place, to });
    } else if (quantityMicro > 0) {
      const taken = Math.min(quantityMicro, here.quantityMicro);
      quantityMicro -= taken;
      moved.push({ lot: lot.lot, spans: null, quantityMicro: taken, from: here.place, to });
    }
  }
  return moved;
}
