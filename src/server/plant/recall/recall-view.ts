import { formatQuantity, MICRO, sumMicro } from '../../../../shared/quantity.js';
import { countPieces, intersectSpans, type SpanSet, unionSpans } from '../../../../shared/spans.js';
import { addsUp, reconcile, type UnitAccount } from '../../documents/recall-report.reconcile.js';
import type { AffectedLot, AffectedWhereabouts, Consignee, LotPart, ScopeTotals } from '../../documents/recall-report.types.js';
import { differencesOf, type Standing } from './affected-lots.js';
import type { Figures } from './figures.query.js';
import { madeOn } from './products.js';
import type {
  RecallAccountView,
  RecallAmountsView,
  RecallConsigneeView,
  RecallLotView,
  RecallPlaceView,
  RecallReconciliationView,
  RecallTotalsView,
  StillOutView,
} from './recall.dto.js';

const wire = (spans: SpanSet | null): number[][] | null => spans as number[][] | null;

export const totalsView = ({ lots, pieces, bulk, consignees }: ScopeTotals): RecallTotalsView => ({
  lots,
  pieces,
  bulk: bulk.map(({ unit, quantityMicro }) => ({ unit, quantity: formatQuantity(quantityMicro) })),
  consignees,
});

export const lotView = (lot: AffectedLot): RecallLotView => ({
  lot: lot.lot,
  item: lot.item,
  itemName: lot.itemName,
  unit: lot.unit,
  pieces: lot.piecesOfLot === 0 ? null : lot.piecesOfLot,
  spans: wire(lot.spans),
  affected: formatQuantity(lot.affectedMicro),
  status: lot.status,
  depth: lot.depth,
});

/** The consignees when the scope was frozen, with what each still has by now. */
export function consigneeViews(frozen: readonly Consignee[], now: readonly Consignee[]): RecallConsigneeView[] {
  const key = (line: { shipment: string; lot: string }) => `${line.shipment}\u0000${line.lot}`;
  const outNow = new Map(now.flatMap((consignee) => consignee.lines.map((line) => [key(line), line.out] as const)));
  const none = { spans: [], quantityMicro: 0 };
  return frozen.map(({ code, name, contact, lines }) => ({
    customer: code,
    name,
    contact,
    lines: lines.map((line) => ({
      shipment: line.shipment,
      shippedOn: line.shippedOn,
      lot: line.lot,
      spans: wire(line.spans),
      quantity: formatQuantity(line.quantityMicro),
      unit: line.unit,
      out: outView(line.out, line.spans),
      outNow: outView(outNow.get(key(line)) ?? none, line.spans),
    })),
  }));
}

const outView = (out: { spans: SpanSet | null; quantityMicro: number }, like: SpanSet | null): StillOutView => ({
  spans: like === null ? null : wire(out.spans),
  quantity: formatQuantity(out.quantityMicro),
});

/** Sets what is affected against where it is, as known at the entry of the figures. */
export function reconciliationView(figures: Figures, lots: readonly AffectedLot[]): RecallReconciliationView {
  const accounts = reconcile(lots, figures.whereabouts);
  return {
    seq: figures.seq,
    addsUp: addsUp(accounts),
    accounts: accounts.map(accountView),
    places: figures.whereabouts.map(placeView),
    differences: differencesOf(figures),
  };
}

/** Accounts of numbered lots count pieces, the others millionths. */
function accountView({ unit, affected, byFate, difference }: UnitAccount): RecallAccountView {
  const written = (counted: number): string => (unit === 'pieces' ? String(counted) : formatQuantity(counted));
  return {
    unit,
    affected: written(affected),
    byFate: Object.fromEntries([...byFate].map(([fate, counted]) => [fate, written(counted)])),
    difference: written(difference),
  };
}

const placeView = ({ lot, fate, holder, document, spans, quantityMicro, unit }: AffectedWhereabouts): RecallPlaceView => ({
  lot,
  fate,
  holder,
  document,
  spans: wire(spans),
  quantity: formatQuantity(quantityMicro),
  unit,
});

/**
 * The amounts of goods that leave the plant: filled, assembled, or sent out at all. What was consumed here counts with what it went into.
 * @see docs/rules/recall.md RL-8
 */
export function amountViews(figures: Figures, standing: Standing): RecallAmountsView[] {
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

function amountsOf(unit: string, ids: ReadonlySet<number>, figures: Figures, standing: Standing): RecallAmountsView {
  const lots = [...ids].map((id) => figures.lots.get(id)!);
  const codes = new Map(lots.map((lot) => [lot.lot, lot.id]));
  const written = (parts: readonly Pick<LotPart, 'quantityMicro'>[]): string =>
    formatQuantity(sumMicro(parts.map((part) => part.quantityMicro)));
  const lines = figures.consignees.flatMap((consignee) => consignee.lines).filter((line) => codes.has(line.lot));
  const places = figures.whereabouts.filter((part) => codes.has(part.lot));
  const here = places.filter((part) => part.fate === 'on hand');
  const made = lots.map((lot) => madeOn(lot) ?? lot.bornAt.slice(0, 10)).toSorted();
  const shipped = lines.map((line) => line.shippedOn).toSorted();
  const affected = lots.map((lot) => ({ quantityMicro: totalMicro(lot.quantityMicro, figures.affected.get(lot.id)!) }));
  return {
    unit,
    total: written(affected),
    madeFrom: made[0] ?? null,
    madeUntil: made.at(-1) ?? null,
    distributed: written(lines),
    distributedFrom: shipped[0] ?? null,
    distributedUntil: shipped.at(-1) ?? null,
    onHand: written(here),
    onHandQuarantined: written(here.map((part) => ({ quantityMicro: stoppedMicro(part, codes.get(part.lot)!, standing) }))),
    inMarket: written(places.filter((part) => part.fate === 'dispatched')),
  };
}

const totalMicro = (quantityMicro: number, spans: SpanSet | null): number => (spans === null ? quantityMicro : countPieces(spans) * MICRO);

/** How much of a part cannot leave: not released, or held. */
function stoppedMicro(part: LotPart, lotId: number, { statuses, held }: Standing): number {
  const parts = statuses.get(lotId);
  const stops = [parts?.get('quarantine'), parts?.get('not-accepted'), ...(held.get(lotId) ?? [])].filter((stop) => stop !== undefined);
  if (part.spans === null || stops.includes(null)) return stops.length > 0 ? part.quantityMicro : 0;
  const stopped = stops.reduce<SpanSet>((sum, stop) => unionSpans(sum, stop ?? []), []);
  return countPieces(intersectSpans(part.spans, stopped)) * MICRO;
}
