import { formatQuantity, MICRO } from '../../../shared/quantity.js';
import { countPieces, intersectSpans, type SpanSet } from '../../../shared/spans.js';
import type {
  AffectedPart,
  ConservativeScope,
  Consignee,
  NarrowedLot,
  TracedLot,
  TraceTotals,
  TracedShipment,
} from '../../../shared/api/trace.js';
import { byCodeUnits } from '../../../shared/code-units.js';
import type { Narrowing } from './evidence.js';
import type { LotCard } from './load.query.js';
import type { LotShare } from './shares.js';
import type { PartThen } from './trace.query.js';
import type { Traced } from './traced.js';

/** Part of a lot that a trace reached, or its origin: null spans mean the whole of a bulk lot. */
export interface Affected {
  readonly lot: number;
  readonly spans: SpanSet | null;
}

/** Everything affected: what links reach, and the origins themselves. */
export function affectedBy(traced: Traced): Affected[] {
  return traced.lots.map(({ lot, spans }) => ({ lot, spans }));
}

/** Sorts by a text key, code unit by code unit. */
export const byText =
  <T>(key: (value: T) => string) =>
  (a: T, b: T): number =>
    byCodeUnits(key(a), key(b));

const cardOf = (cards: readonly LotCard[], lot: number): LotCard => {
  const card = cards[lot];
  if (!card) throw new Error(`lot id ${lot} is in the genealogy but not among the lots`);
  return card;
};

export function tracedLots(
  traced: Traced,
  cards: readonly LotCard[],
  classes: ReadonlyMap<string, string>,
  shares: ReadonlyMap<number, LotShare>,
): TracedLot[] {
  return traced
    .reachedByLinks()
    .map((reached): TracedLot => {
      const card = cardOf(cards, reached.lot);
      const spans = reached.again ? reached.again.spans : reached.spans;
      const share = shares.get(reached.lot);
      const pieces = spans === null ? null : countPieces(spans);
      return {
        lot: card.lot,
        item: card.item,
        class: classes.get(card.item) ?? 'unknown',
        unit: card.unit,
        pieces: card.pieces,
        spans,
        affectedPieces: pieces,
        affectedQuantity: pieces === null ? formatQuantity(card.quantityMicro) : formatQuantity(pieces * MICRO),
        share: share?.share ?? null,
        ...(share?.shares && share.shares.length > 1 ? { shares: share.shares } : {}),
        depth: reached.again ? reached.again.depth : reached.depth,
      };
    })
    .toSorted(byText((lot) => lot.lot));
}

/** Affected ∩ dispatched, per customer and shipment. */
export function consignees(
  affected: readonly Affected[],
  dispatched: readonly PartThen[],
  heads: ReadonlyMap<string, { customer: string; at: string }>,
  cards: readonly LotCard[],
): Consignee[] {
  const byCustomer = new Map<string, { pieces: number; shipments: TracedShipment[] }>();
  for (const { part, spans, pieces } of meeting(affected, dispatched)) {
    const head = heads.get(part.at);
    if (!head) throw new Error(`a lot was dispatched in ${part.at}, which is no shipment`);
    const entry = byCustomer.get(head.customer) ?? { pieces: 0, shipments: [] };
    byCustomer.set(head.customer, entry);
    entry.pieces += pieces ?? 0;
    entry.shipments.push({
      shipment: part.at,
      at: head.at,
      lot: cardOf(cards, part.lotId).lot,
      spans,
      quantity: formatQuantity(pieces === null ? part.quantityMicro : pieces * MICRO),
    });
  }
  return [...byCustomer]
    .map(([customer, { pieces, shipments }]) => ({
      customer,
      affectedPieces: pieces,
      shipments: shipments.toSorted(byText((shipment) => `${shipment.shipment}\u0000${shipment.lot}`)),
    }))
    .toSorted(byText((consignee) => consignee.customer));
}

/** Affected ∩ whereabouts; for numbered lots it partitions the affected pieces. */
export function affectedParts(affected: readonly Affected[], places: readonly PartThen[], cards: readonly LotCard[]): AffectedPart[] {
  return meeting(affected, places)
    .map(({ part, spans, pieces }) => ({
      lot: cardOf(cards, part.lotId).lot,
      fate: part.fate,
      at: part.at,
      spans,
      pieces,
      quantity: formatQuantity(pieces === null ? part.quantityMicro : pieces * MICRO),
    }))
    .toSorted(byText((part) => `${part.lot}\u0000${part.fate}\u0000${part.at}`));
}

interface Meeting {
  readonly part: PartThen;
  readonly spans: SpanSet | null;
  readonly pieces: number | null;
}

function meeting(affected: readonly Affected[], places: readonly PartThen[]): Meeting[] {
  const wanted = new Map(affected.map(({ lot, spans }) => [lot, spans]));
  const found: Meeting[] = [];
  for (const part of places) {
    const spans = wanted.get(part.lotId);
    if (spans === undefined) continue;
    if (spans === null || part.spans === null) {
      found.push({ part, spans: null, pieces: null });
      continue;
    }
    const both = intersectSpans(spans, part.spans);
    if (both.length > 0) found.push({ part, spans: both, pieces: countPieces(both) });
  }
  return found;
}

export function totalsOf(lots: readonly { readonly affectedPieces: number | null }[], consigneeList: readonly Consignee[]): TraceTotals {
  return {
    lots: lots.length,
    pieces: lots.reduce((sum, lot) => sum + (lot.affectedPieces ?? 0), 0),
    consignees: consigneeList.length,
    dispatchedPieces: consigneeList.reduce((sum, consignee) => sum + consignee.affectedPieces, 0),
  };
}

/** The scope of whole lots beside the narrow one, with the evidence for every difference. */
export function conservativeScope(
  conservative: Traced,
  narrowings: readonly Narrowing[],
  cards: readonly LotCard[],
  consigneeList: readonly Consignee[],
  narrowPieces: number,
): ConservativeScope {
  const lots = conservative
    .reachedByLinks()
    .map((reached) => {
      const spans = reached.again ? reached.again.spans : reached.spans;
      return {
        lot: cardOf(cards, reached.lot).lot,
        spans,
        affectedPieces: spans === null ? null : countPieces(spans),
        depth: reached.again ? reached.again.depth : reached.depth,
      };
    })
    .toSorted(byText((lot) => lot.lot));
  const totals = totalsOf(lots, consigneeList);
  return {
    totals,
    morePieces: totals.pieces - narrowPieces,
    lots,
    narrowings: narrowings.map((n) => narrowedLot(n, cards)).toSorted(byText((n) => n.lot)),
  };
}

function narrowedLot({ lot, keptOut, links, through }: Narrowing, cards: readonly LotCard[]): NarrowedLot {
  return {
    lot: cardOf(cards, lot).lot,
    keptOut,
    pieces: keptOut === null ? null : countPieces(keptOut),
    evidence: links.map((link) => ({
      link: `${link.seq}.${link.ord}`,
      from: cardOf(cards, link.fromLot).lot,
      fromSpan: link.fromFirst === 0 ? null : [link.fromFirst, link.fromLast],
      to: cardOf(cards, link.toLot).lot,
      toSpan: link.toFirst === 0 ? null : [link.toFirst, link.toLast],
    })),
    through: through.map((id) => cardOf(cards, id).lot).toSorted(byText((code) => code)),
  };
}
