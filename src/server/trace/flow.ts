import type { FlowLink, FlowLot, FlowPart, TraceFlow } from '../../../shared/api/flow.js';
import { formatQuantity, MICRO } from '../../../shared/quantity.js';
import { countPieces, intersectSpans, type SpanSet } from '../../../shared/spans.js';
import type { Party } from '../plant/catalogue/catalogue.facts.js';
import type { KnownLot } from '../plant/recall/known-at.query.js';
import type { KnownLink } from './link.js';
import type { PartThen } from './trace.query.js';

/** What is known about traced lots, as known at one entry. */
interface FlowGround {
  /** Affected pieces by lot id; null: the whole of a bulk lot. */
  readonly affected: ReadonlyMap<number, SpanSet | null>;
  /** The affected lots, and lots that only went into them if those are to be shown. */
  readonly lots: ReadonlyMap<number, KnownLot>;
  readonly places: readonly PartThen[];
  /** Customer by shipment. */
  readonly customers: ReadonlyMap<string, string>;
  readonly parties: ReadonlyMap<string, Party>;
  readonly linksInto: (lotId: number) => readonly KnownLink[];
}

/** Lots that went straight into affected ones and are not affected themselves. */
export function otherInputs({ affected, linksInto }: Pick<FlowGround, 'affected' | 'linksInto'>): number[] {
  const found = new Set<number>();
  for (const id of affected.keys()) for (const { fromLot } of linksInto(id)) if (!affected.has(fromLot)) found.add(fromLot);
  return [...found];
}

/** How material went between the lots of the ground, and where the affected ones are. */
export function traceFlow(ground: FlowGround): TraceFlow {
  const { lots, linksInto } = ground;
  const links: KnownLink[] = [];
  for (const id of lots.keys()) for (const link of linksInto(id)) if (lots.has(link.fromLot)) links.push(link);
  return {
    lots: [...lots.values()].map((lot) => flowLot(lot, ground)).toSorted((a, b) => (a.lot < b.lot ? -1 : 1)),
    links: links.toSorted((a, b) => a.seq - b.seq || a.ord - b.ord).map((link) => flowLink(link, lots)),
    parts: sortedParts(ground.places.flatMap((place) => flowPart(place, ground))),
  };
}

function flowLot(lot: KnownLot, { affected }: FlowGround): FlowLot {
  const spans = affected.get(lot.id);
  const nothing = lot.pieces === null ? null : [];
  return {
    lot: lot.lot,
    item: lot.item,
    itemName: lot.itemRecord?.name ?? lot.item,
    class: lot.itemRecord?.class ?? null,
    unit: lot.unit,
    pieces: lot.pieces,
    quantity: formatQuantity(lot.quantityMicro),
    affected: spans !== undefined,
    spans: spans === undefined ? nothing : spans,
    affectedQuantity: formatQuantity(spans === undefined ? 0 : spans === null ? lot.quantityMicro : countPieces(spans) * MICRO),
    origin: lot.origin,
    source: lot.source,
    supplier: lot.supplier,
    supplierLot: lot.supplierLot,
    bornAt: lot.bornAt,
    widthPerUnit: widthPerUnit(lot),
  };
}

/** Kilograms of one base unit of a lot where that is known, else 1. */
function widthPerUnit(lot: KnownLot): number {
  if (lot.unit === 'L') return (lot.itemRecord?.densityMicro ?? MICRO) / MICRO;
  return lot.pieces === null ? 1 : (lot.itemRecord?.contentMicro ?? MICRO) / MICRO;
}

function flowLink(link: KnownLink, lots: FlowGround['lots']): FlowLink {
  return {
    link: `${link.seq}.${link.ord}`,
    from: lots.get(link.fromLot)!.lot,
    fromSpan: link.fromFirst === 0 ? null : [link.fromFirst, link.fromLast],
    to: lots.get(link.toLot)!.lot,
    toSpan: link.toFirst === 0 ? null : [link.toFirst, link.toLast],
    quantity: formatQuantity(link.quantityMicro),
    mass: formatQuantity(link.massMicro),
    map: link.map,
  };
}

function flowPart(place: PartThen, { affected, lots, customers, parties }: FlowGround): FlowPart[] {
  const spans = affected.get(place.lotId);
  const lot = lots.get(place.lotId);
  if (spans === undefined || lot === undefined) return [];
  const hitMicro = spans === null ? place.quantityMicro : countPieces(intersectSpans(spans, place.spans ?? [])) * MICRO;
  const customer = place.fate === 'dispatched' ? (customers.get(place.at) ?? null) : null;
  return [
    {
      lot: lot.lot,
      fate: place.fate,
      at: place.at,
      customer,
      customerName: customer === null ? null : (parties.get(customer)?.name ?? null),
      quantity: formatQuantity(place.quantityMicro),
      affectedQuantity: formatQuantity(hitMicro),
    },
  ];
}

/** By lot, fate and place; each key is written once, not at every comparison. */
function sortedParts(parts: readonly FlowPart[]): FlowPart[] {
  const keyed = parts.map((part) => ({ key: `${part.lot}\u0000${part.fate}\u0000${part.at}`, part }));
  return keyed.toSorted((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : 0)).map(({ part }) => part);
}
