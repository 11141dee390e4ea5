import { MICRO } from '../../../../shared/quantity.js';
import type { Reasons } from '../../../../shared/refusal.js';
import { countPieces, formatSpans, intersectSpans, type SpanSet, subtractSpans } from '../../../../shared/spans.js';
import { begin, checkPlace, fateAt, type StockState } from './documents.decide.js';
import type { StockCounted } from './documents.facts.js';
import type { Movement, Place } from './effects.facts.js';
import { heldAt, type LotState } from './lot-state.facts.js';
import { checkInside, whereabouts } from './part.decide.js';

interface CountStock {
  readonly lot: string;
  readonly location: string;
  /** Pieces found there; for a numbered lot. */
  readonly pieces?: SpanSet | undefined;
  /** Quantity found there; for a bulk lot. */
  readonly countedMicro?: number | undefined;
  /** Set when nothing of the lot was found there. */
  readonly nothing?: boolean | undefined;
  readonly reason: string;
}

/**
 * What was found at a location, against the record. What is missing goes to the count's difference; what is found again comes back from
 * the differences of earlier counts, or, of a bulk lot, stands as a negative difference.
 * @see docs/rules/stock.md S-10
 */
export function decideCount(command: CountStock, state: StockState): StockCounted {
  const { no, lot } = begin(command, state);
  checkPlace(no, state, command.location, '/location');
  if (command.nothing && (command.pieces !== undefined || command.countedMicro !== undefined)) {
    no.malformed('something-and-nothing', 'either nothing was found, or what was found is given', { pointer: '/nothing' });
  }
  const counted = lot.pieces === null ? countBulk(no, lot, command, state) : countPiecesOf(no, lot, command, state);
  no.throwIfAny();
  return {
    kind: 'StockCounted',
    v: 1,
    document: state.document,
    lot: lot.lot,
    location: command.location,
    reason: command.reason,
    ...counted!,
  };
}

type Counted = Pick<StockCounted, 'countedSpans' | 'countedMicro' | 'differenceMicro' | 'moved'>;

function countBulk(no: Reasons, lot: LotState, command: CountStock, state: StockState): Counted | null {
  const countedMicro = command.nothing ? 0 : command.countedMicro;
  if (command.pieces !== undefined)
    no.conflict('no-pieces-here', `${lot.lot} is bulk and has no pieces: give a quantity`, { pointer: '/pieces' });
  if (countedMicro === undefined) {
    no.malformed('quantity-missing', `how much of ${lot.lot} was found, in ${lot.unit}?`, { pointer: '/quantity' });
    return null;
  }
  if (countedMicro < 0) no.malformed('quantity-negative', 'nothing less than nothing is found', { pointer: '/quantity' });
  if (lot.unit === 'each' && countedMicro % MICRO !== 0)
    no.malformed('not-whole', `${lot.lot} is counted: give a whole number`, { pointer: '/quantity' });
  const here: Place = { fate: fateAt(state, command.location), at: command.location };
  const difference: Place = { fate: 'count-difference', at: state.document };
  const differenceMicro = countedMicro - heldAt(lot, here.fate, here.at).quantityMicro;
  const amount = { lot: lot.lot, spans: null, quantityMicro: Math.abs(differenceMicro) };
  const moved =
    differenceMicro === 0
      ? []
      : [differenceMicro < 0 ? { ...amount, from: here, to: difference } : { ...amount, from: difference, to: here }];
  return { countedSpans: null, countedMicro, differenceMicro, moved };
}

function countPiecesOf(no: Reasons, lot: LotState, command: CountStock, state: StockState): Counted | null {
  const found = command.nothing ? [] : command.pieces;
  if (command.countedMicro !== undefined) {
    no.conflict('pieces-not-quantity', `${lot.lot} has numbered pieces: say which were found, not how many`, { pointer: '/quantity' });
  }
  if (found === undefined) {
    no.malformed('pieces-missing', `which pieces of ${lot.lot} were found?`, { pointer: '/pieces' });
    return null;
  }
  if (!checkInside(no, lot, found)) return null;
  const here: Place = { fate: fateAt(state, command.location), at: command.location };
  const recorded = heldAt(lot, here.fate, here.at).spans ?? [];
  const missing = subtractSpans(recorded, found);
  let again = subtractSpans(found, recorded);
  const moved: Movement[] = missing.length === 0 ? [] : [movement(lot, missing, here, { fate: 'count-difference', at: state.document })];
  for (const part of lot.places) {
    if (part.place.fate !== 'count-difference') continue;
    const back = intersectSpans(again, part.spans ?? []);
    if (back.length > 0) moved.push(movement(lot, back, part.place, here));
    again = subtractSpans(again, back);
  }
  if (again.length > 0) {
    no.conflict('pieces-elsewhere', `pieces of ${lot.lot} stand elsewhere in the record: ${whereabouts(lot, again)}; move or return them`, {
      pointer: '/pieces',
      pieces: formatSpans(again),
    });
  }
  const countedMicro = countPieces(found) * MICRO;
  return { countedSpans: found, countedMicro, differenceMicro: countedMicro - countPieces(recorded) * MICRO, moved };
}

const movement = (lot: LotState, spans: SpanSet, from: Place, to: Place): Movement => ({
  lot: lot.lot,
  spans,
  quantityMicro: countPieces(spans) * MICRO,
  from,
  to,
});
