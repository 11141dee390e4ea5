import { formatQuantity } from '../../../../shared/quantity.js';
import type { SpanSet } from '../../../../shared/spans.js';
import { addsUp, reconcile, type UnitAccount } from '../../documents/recall-report.reconcile.js';
import type { AffectedLot, AffectedWhereabouts, Amounts, Consignee, ScopeTotals } from '../../documents/recall-report.types.js';
import { differencesOf } from './affected-lots.js';
import type { Figures } from './figures.query.js';
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

export const amountView = (amounts: Amounts): RecallAmountsView => ({
  unit: amounts.unit,
  total: formatQuantity(amounts.totalMicro),
  madeFrom: amounts.madeFrom,
  madeUntil: amounts.madeUntil,
  distributed: formatQuantity(amounts.distributedMicro),
  distributedFrom: amounts.distributedFrom,
  distributedUntil: amounts.distributedUntil,
  onHand: formatQuantity(amounts.onHandMicro),
  onHandQuarantined: formatQuantity(amounts.onHandStoppedMicro),
  inMarket: formatQuantity(amounts.inMarketMicro),
});
