import { MICRO } from '../../../../shared/quantity.js';
import type { Reasons } from '../../../../shared/refusal.js';
import { countPieces, intersectSpans, type Span, type SpanSet, subtractSpans, unionSpans } from '../../../../shared/spans.js';
import type { Item } from '../catalogue/catalogue.facts.js';
import type { Judged, PickAdvice, Proposed, Skipped, StockLot, StockPart } from './pick.facts.js';

const part = (spans: SpanSet): StockPart => ({ spans, quantityMicro: countPieces(spans) * MICRO });

/** First to expire goes first, then the oldest; lots without an expiry date come after those with one. */
export function inPickOrder(a: Pick<StockLot, 'expiresOn' | 'bornAt' | 'lot'>, b: Pick<StockLot, 'expiresOn' | 'bornAt' | 'lot'>): number {
  const key = (lot: typeof a) => `${lot.expiresOn ?? '9999-99-99'}\u0000${lot.bornAt}\u0000${lot.lot}`;
  return key(a) < key(b) ? -1 : key(a) > key(b) ? 1 : 0;
}

/**
 * What of a lot on hand may be dispatched on a date: released, not expired, not held, not made from anything held.
 * @param on calendar date of dispatch
 * @see docs/rules/dispatch.md D-7
 */
export function judgeStock(stock: StockLot, on: string): Judged {
  return stock.pieces === null ? judgeBulk(stock, on) : judgePieces(stock, on);
}

function judgePieces(stock: StockLot, on: string): Judged {
  const skipped: Skipped[] = [];
  const onHand = stock.onHand.reduce<SpanSet>((sum, here) => unionSpans(sum, here.spans ?? []), []);
  let left = onHand;
  const skip = (spans: SpanSet, code: string, detail: string): void => {
    if (spans.length === 0) return;
    skipped.push({ lot: stock.lot, ...part(spans), code, detail });
    left = subtractSpans(left, spans);
  };
  if (isExpired(stock, on)) skip(onHand, 'lot-expired', `expired on ${stock.expiresOn}`);
  skip(intersectSpans(onHand, stock.statuses.get('not-accepted') ?? []), 'lot-not-accepted', 'was not accepted');
  skip(intersectSpans(onHand, stock.statuses.get('quarantine') ?? []), 'lot-not-released', 'is in quarantine');
  for (const stop of stock.stops) skip(stop.spans === null ? onHand : intersectSpans(onHand, stop.spans), ...stopWords(stop));
  return { stock, usable: part(left), skipped };
}

function judgeBulk(stock: StockLot, on: string): Judged {
  const skipped: Skipped[] = [];
  const onHandMicro = stock.onHand.reduce((sum, here) => sum + here.quantityMicro, 0);
  let leftMicro = onHandMicro;
  const skip = (quantityMicro: number, code: string, detail: string): void => {
    skipped.push({ lot: stock.lot, spans: null, quantityMicro, code, detail });
    leftMicro = Math.max(0, leftMicro - quantityMicro);
  };
  if (isExpired(stock, on)) skip(onHandMicro, 'lot-expired', `expired on ${stock.expiresOn}`);
  if (stock.statuses.has('not-accepted')) skip(onHandMicro, 'lot-not-accepted', 'was not accepted');
  if (stock.statuses.has('quarantine')) skip(onHandMicro, 'lot-not-released', 'is in quarantine');
  for (const stop of stock.stops) skip(Math.min(onHandMicro, stop.hold.quantityMicro ?? onHandMicro), ...stopWords(stop));
  return { stock, usable: { spans: null, quantityMicro: leftMicro }, skipped };
}

const isExpired = (stock: StockLot, on: string): boolean => stock.expiresOn !== null && stock.expiresOn < on;

const stopWords = ({ hold, inherited }: StockLot['stops'][number]): [code: string, detail: string] =>
  inherited
    ? ['made-from-held', `was made from ${hold.lot}, which is on hold ${hold.hold}: ${hold.reason}`]
    : ['lot-held', `is on hold ${hold.hold}: ${hold.reason}`];

/** Adds a reason where nothing can be proposed: no such item, nothing wanted, or a part of something counted. */
export function checkPickQuantity(no: Reasons, code: string, item: Item | undefined, quantityMicro: number): void {
  if (!item) no.unknown('item-unknown', `no item ${code}`, { item: code });
  if (quantityMicro <= 0) no.malformed('quantity-not-positive', 'a quantity is more than nothing', { pointer: '/quantity' });
  else if (item?.unit === 'each' && quantityMicro % MICRO !== 0) {
    no.malformed('not-whole', `${code} is counted: give a whole number`, { pointer: '/quantity' });
  }
}

/**
 * Proposes what to take for a quantity, oldest first, and names what was skipped on the way.
 * @param quantityMicro millionths of the item's unit
 * @see docs/rules/dispatch.md D-7
 */
export function proposePick(judged: readonly Judged[], quantityMicro: number): PickAdvice {
  const proposed: Proposed[] = [];
  let shortMicro = quantityMicro;
  const sorted = judged.toSorted((a, b) => inPickOrder(a.stock, b.stock));
  for (const { stock, usable } of sorted) {
    let lotLeft = usable;
    for (const here of stock.onHand) {
      if (shortMicro === 0) break;
      const taken = takeFirst(lotLeft, here, shortMicro);
      if (taken.quantityMicro === 0) continue;
      shortMicro -= taken.quantityMicro;
      lotLeft = {
        spans: lotLeft.spans === null ? null : subtractSpans(lotLeft.spans, taken.spans ?? []),
        quantityMicro: lotLeft.quantityMicro - taken.quantityMicro,
      };
      proposed.push({ lot: stock.lot, unit: stock.unit, at: here.at, ...taken, expiresOn: stock.expiresOn, bornAt: stock.bornAt });
    }
  }
  return { proposed, shortMicro, skipped: sorted.flatMap((lot) => lot.skipped) };
}

/** The lowest piece numbers, or as much of a bulk lot, of what may go and is here. */
function takeFirst(usable: StockPart, here: StockPart, wantedMicro: number): StockPart {
  if (usable.spans === null) return { spans: null, quantityMicro: Math.min(usable.quantityMicro, here.quantityMicro, wantedMicro) };
  const spans: Span[] = [];
  let wanted = Math.floor(wantedMicro / MICRO);
  for (const [first, last] of intersectSpans(usable.spans, here.spans ?? [])) {
    if (wanted === 0) break;
    const end = Math.min(last, first + wanted - 1);
    spans.push([first, end]);
    wanted -= end - first + 1;
  }
  return part(spans);
}

/**
 * Lots of the same item that should have gone before `lot` and of which the shipment leaves something behind.
 * @param takenMicro what the shipment takes of each lot
 * @see docs/rules/dispatch.md D-8
 */
export function passedOver(
  lot: Pick<StockLot, 'lot' | 'expiresOn' | 'bornAt'>,
  judged: readonly Judged[],
  takenMicro: ReadonlyMap<string, number>,
): string[] {
  return judged
    .filter(({ stock, usable }) => inPickOrder(stock, lot) < 0 && usable.quantityMicro > (takenMicro.get(stock.lot) ?? 0))
    .map(({ stock }) => stock.lot)
    .toSorted();
}
