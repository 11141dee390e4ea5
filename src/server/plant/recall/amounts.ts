import { MICRO, sumMicro } from '../../../../shared/quantity.js';
import { countPieces, intersectSpans, type SpanSet, unionSpans } from '../../../../shared/spans.js';
import type { Amounts, LotPart } from '../../documents/recall-report.types.js';
import type { Standing } from './affected-lots.js';
import type { Figures } from './figures.query.js';
import { madeOn } from './products.js';

/**
 * The amounts of goods that leave the plant: filled, assembled, or sent out at all. What was consumed here counts with what it went into.
 * @see docs/rules/recall.md RL-8
 */
export function amountsIn(figures: Figures, standing: Standing): Amounts[] {
  const sent = new Set(figures.consignees.flatMap((consignee) => consignee.lines.map((line) => line.lot)));
  const goods = [...figures.affected.keys()].filter((id) => {
    const lot = figures.lots.get(id)!;
    return lot.itemRecord?.class === 'filled' || lot.itemRecord?.class === 'assembled' || sent.has(lot.lot);
  });
  const units = new Map<string, number[]>();
  for (const id of goods) {
    const lot = figures.lots.get(id)!;
    const unit = lot.pieces === null ? lot.unit : 'pieces';
    units.set(unit, [...(units.get(unit) ?? []), id]);
  }
  return [...units].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([unit, ids]) => amountsOf(unit, new Set(ids), figures, standing));
}

function amountsOf(unit: string, ids: ReadonlySet<number>, figures: Figures, standing: Standing): Amounts {
  const lots = [...ids].map((id) => figures.lots.get(id)!);
  const codes = new Map(lots.map((lot) => [lot.lot, lot.id]));
  const sum = (parts: readonly Pick<LotPart, 'quantityMicro'>[]): number => sumMicro(parts.map((part) => part.quantityMicro));
  const lines = figures.consignees.flatMap((consignee) => consignee.lines).filter((line) => codes.has(line.lot));
  const places = figures.whereabouts.filter((part) => codes.has(part.lot));
  const here = places.filter((part) => part.fate === 'on hand');
  const made = lots.map((lot) => madeOn(lot) ?? lot.bornAt.slice(0, 10)).toSorted();
  const shipped = lines.map((line) => line.shippedOn).toSorted();
  const affected = lots.map((lot) => ({ quantityMicro: affectedMicro(lot.quantityMicro, figures.affected.get(lot.id)!) }));
  return {
    unit,
    totalMicro: sum(affected),
    madeFrom: made[0] ?? null,
    madeUntil: made.at(-1) ?? null,
    distributedMicro: sum(lines),
    distributedFrom: shipped[0] ?? null,
    distributedUntil: shipped.at(-1) ?? null,
    onHandMicro: sum(here),
    onHandStoppedMicro: sum(here.map((part) => ({ quantityMicro: stoppedMicro(part, codes.get(part.lot)!, standing) }))),
    inMarketMicro: sum(places.filter((part) => part.fate === 'dispatched')),
  };
}

const affectedMicro = (quantityMicro: number, spans: SpanSet | null): number =>
  spans === null ? quantityMicro : countPieces(spans) * MICRO;

/** How much of a part cannot leave: not released, or held. */
function stoppedMicro(part: LotPart, lotId: number, { statuses, held }: Standing): number {
  const parts = statuses.get(lotId);
  const stops = [parts?.get('quarantine'), parts?.get('not-accepted'), ...(held.get(lotId) ?? [])].filter((stop) => stop !== undefined);
  if (part.spans === null || stops.includes(null)) return stops.length > 0 ? part.quantityMicro : 0;
  const stopped = stops.reduce<SpanSet>((sum, stop) => unionSpans(sum, stop ?? []), []);
  return countPieces(intersectSpans(part.spans, stopped)) * MICRO;
}
