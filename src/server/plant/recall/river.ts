import { formatQuantity, MICRO } from '../../../../shared/quantity.js';
import { countPieces, intersectSpans, type SpanSet } from '../../../../shared/spans.js';
import type { RiverGraph, RiverLayer, RiverLink, RiverNode } from '../../../../shared/trace-graph.js';
import type { KnownLink } from '../../trace/link.js';
import { meets } from '../stock/lot-state.facts.js';
import { affectedMicro } from './affected.js';
import type { Figures } from './figures.query.js';
import type { KnownLot } from './known-at.query.js';

/** More lots than this are told in tables only. */
const MOST_LOTS = 4000;

/**
 * How the affected material went: from the origin through the lots that hold it to customers and places. What shares a lot with it and
 * is not affected is drawn pale. Bands are as wide as the mass that went, or the pieces where nothing is weighed.
 */
export function recallRiver(figures: Figures, linksOutOf: (lotId: number) => readonly KnownLink[]): RiverGraph | null {
  const { affected, lots } = figures;
  if (affected.size === 0 || affected.size > MOST_LOTS) return null;
  const links: RiverLink[] = [];
  for (const id of affected.keys()) {
    for (const link of linksOutOf(id)) {
      if (affected.has(link.toLot)) links.push(...bands(link, affected.get(id)!, lots.get(id)!, lots.get(link.toLot)!));
    }
  }
  const ends = endsOf(figures);
  const lotNodes = [...affected].map(([id, spans]) => lotNode(lots.get(id)!, spans));
  return { nodes: [...lotNodes, ...ends.nodes], links: [...links, ...ends.links] };
}

const lotId = (lot: KnownLot): string => `lot ${lot.lot}`;

function lotNode(lot: KnownLot, spans: SpanSet | null): RiverNode {
  const micro = affectedMicro(lot, spans);
  return {
    id: lotId(lot),
    label: lot.lot,
    note: `${lot.itemRecord?.name ?? lot.item}, ${formatQuantity(micro)} ${spans === null ? lot.unit : micro === MICRO ? 'piece' : 'pieces'}`,
    layer: layerOf(lot),
    kind: lot.itemRecord?.class ?? 'lot',
    quantityMicro: lot.quantityMicro,
    unit: lot.unit,
    affectedShare: lot.quantityMicro === 0 ? null : micro / lot.quantityMicro,
    at: lot.bornAt,
  };
}

function layerOf(lot: KnownLot): RiverLayer {
  if (lot.origin === 'received') return 'supplier-lot';
  return lot.itemRecord?.class === 'mixture' ? 'batch' : 'lot';
}

/** Width of one base unit of a lot: kilograms where it has a mass, else one a piece. */
function unitWidth(lot: KnownLot): number {
  if (lot.unit === 'L') return (lot.itemRecord?.densityMicro ?? MICRO) / MICRO;
  return lot.pieces === null ? 1 : (lot.itemRecord?.contentMicro ?? MICRO) / MICRO;
}

function bands(link: KnownLink, source: SpanSet | null, from: KnownLot, to: KnownLot): RiverLink[] {
  const ends = { source: lotId(from), target: lotId(to) };
  const value = link.toFirst === 0 ? bulkWidth(link, from) : (link.toLast - link.toFirst + 1) * unitWidth(to);
  if (source === null) return [{ ...ends, value, affected: true }];
  const hit = intersectSpans(source, [[link.fromFirst, link.fromLast]]);
  if (link.map === 'all') return [{ ...ends, value, affected: meets(source, [[link.fromFirst, link.fromLast]]) }];
  const part = countPieces(hit) / (link.fromLast - link.fromFirst + 1);
  return [
    { ...ends, value: value * part, affected: true },
    { ...ends, value: value * (1 - part), affected: false },
  ].filter((band) => band.value > 0);
}

const bulkWidth = (link: KnownLink, from: KnownLot): number =>
  link.massMicro > 0 ? link.massMicro / MICRO : (link.quantityMicro / MICRO) * unitWidth(from);

interface End {
  node: Omit<RiverNode, 'affectedShare'>;
  hitMicro: number;
  allMicro: number;
}

const PLACES: Readonly<Record<string, string>> = {
  'on-hand': 'on hand',
  scrapped: 'scrapped',
  retained: 'retained',
  'destroyed-in-test': 'destroyed in test',
  'returned-to-supplier': 'returned to supplier',
  'count-difference': 'counted adjustment',
};

/** Customers and places: where parts of affected lots are now. What was consumed is a link already. */
function endsOf({ affected, lots, places, customers, parties }: Figures): { nodes: RiverNode[]; links: RiverLink[] } {
  const ends = new Map<string, End>();
  const links: RiverLink[] = [];
  for (const place of places) {
    if (place.fate === 'consumed' || place.quantityMicro <= 0) continue;
    const lot = lots.get(place.lotId)!;
    const spans = affected.get(place.lotId)!;
    const hitMicro = spans === null ? place.quantityMicro : countPieces(intersectSpans(spans, place.spans ?? [])) * MICRO;
    const node = endNode(place, lot, customers, parties);
    const end = ends.get(node.id) ?? { node, hitMicro: 0, allMicro: 0 };
    ends.set(node.id, { node: end.node, hitMicro: end.hitMicro + hitMicro, allMicro: end.allMicro + place.quantityMicro });
    const link = { source: lotId(lot), target: node.id };
    const width = unitWidth(lot) / MICRO;
    if (hitMicro > 0) links.push({ ...link, value: hitMicro * width, affected: true });
    if (hitMicro < place.quantityMicro) links.push({ ...link, value: (place.quantityMicro - hitMicro) * width, affected: false });
  }
  const nodes = [...ends.values()].map(({ node, hitMicro, allMicro }) => ({
    ...node,
    quantityMicro: allMicro,
    affectedShare: hitMicro / allMicro,
  }));
  return { nodes, links };
}

function endNode(
  place: Figures['places'][number],
  lot: KnownLot,
  customers: Figures['customers'],
  parties: Figures['parties'],
): Omit<RiverNode, 'affectedShare'> {
  const unit = { quantityMicro: 0, unit: lot.pieces === null ? lot.unit : 'pieces', at: null };
  if (place.fate === 'dispatched') {
    const customer = customers.get(place.at) ?? place.at;
    return {
      id: `customer ${customer}`,
      label: customer,
      note: parties.get(customer)?.name ?? '',
      layer: 'customer',
      kind: 'customer',
      ...unit,
    };
  }
  const fate = PLACES[place.fate] ?? place.fate;
  const label = place.fate === 'on-hand' ? place.at : fate;
  return {
    id: `place ${place.fate} ${label}`,
    label,
    note: place.fate === 'on-hand' ? fate : '',
    layer: 'whereabouts',
    kind: fate,
    ...unit,
  };
}
