import type { FlowLink, FlowLot, FlowPart, TraceFlow } from './api/flow.js';
import { formatQuantity, MICRO, parseQuantity } from './quantity.js';
import { countPieces, intersectSpans, type Span, type SpanSet } from './spans.js';
import type { RiverGraph, RiverLayer, RiverLink, RiverNode } from './trace-graph.js';

/** Fates as a reader of a picture knows them. */
const PLACES: Readonly<Record<string, string>> = {
  'on-hand': 'on hand',
  scrapped: 'scrapped',
  retained: 'retained',
  'destroyed-in-test': 'destroyed in test',
  'returned-to-supplier': 'returned to supplier',
  'count-difference': 'counted adjustment',
};

/** Id of a lot's node in the river. */
export const riverLotId = (lot: string): string => `lot ${lot}`;

/** Id of a customer's node in the river. */
export const riverCustomerId = (customer: string): string => `customer ${customer}`;

/**
 * How traced material went, as a graph to be laid out: from origins through the lots that hold it to customers and places. What shares a
 * lot with it and is not affected is drawn pale, and so are lots that only went into affected ones. Bands are as wide as the mass that
 * went, or the pieces where nothing is weighed.
 * @throws QuantityFault when a quantity is no decimal number
 */
export function riverOfTrace({ lots, links, parts }: TraceFlow): RiverGraph {
  const nodes = lots.map(lotNode);
  const known = new Map(lots.map((lot, i): [string, KnownLot] => [lot.lot, { lot, id: nodes[i]!.id }]));
  // Written to one list, one shape an object: there are tens of thousands.
  const bands: RiverLink[] = [];
  for (const link of links) {
    const from = known.get(link.from);
    const to = known.get(link.to);
    if (from !== undefined && to !== undefined) addBands(bands, link, from, to);
  }
  const ends = addEnds(bands, parts, known);
  return { nodes: [...nodes, ...ends], links: bands };
}

/** A lot and its node's id, the same text for every link: ids that are looked up often should not be written anew each time. */
interface KnownLot {
  readonly lot: FlowLot;
  readonly id: string;
}

function lotNode(lot: FlowLot): RiverNode {
  const quantityMicro = parseQuantity(lot.quantity);
  const affectedMicro = parseQuantity(lot.affectedQuantity);
  return {
    id: riverLotId(lot.lot),
    label: lot.lot,
    note: noteOf(lot, affectedMicro),
    layer: layerOf(lot),
    kind: lot.class ?? 'lot',
    quantityMicro,
    unit: lot.unit,
    affectedShare: quantityMicro === 0 ? (lot.affected ? null : 0) : affectedMicro / quantityMicro,
    at: lot.bornAt,
  };
}

function noteOf(lot: FlowLot, affectedMicro: number): string {
  if (!lot.affected) return lot.itemName;
  return `${lot.itemName}, ${formatQuantity(affectedMicro)} ${lot.spans === null ? lot.unit : affectedMicro === MICRO ? 'piece' : 'pieces'}`;
}

function layerOf(lot: FlowLot): RiverLayer {
  if (lot.origin === 'received') return 'supplier-lot';
  return lot.class === 'mixture' ? 'batch' : 'lot';
}

const spanOf = (span: FlowLink['fromSpan']): Span[] => (span === null ? [] : [[span[0], span[1]]]);

/** The affected pieces of a side, all of them for a bulk lot that is affected. */
const sideOf = (lot: FlowLot, span: FlowLink['fromSpan']): SpanSet | null =>
  lot.spans === null ? null : intersectSpans(lot.spans, spanOf(span));

/** One band, or two where only some pieces of the link are affected. */
function addBands(bands: RiverLink[], link: FlowLink, { lot: from, id: source }: KnownLot, { lot: to, id: target }: KnownLot): void {
  const value = link.toSpan === null ? bulkWidth(link, from) : (link.toSpan[1] - link.toSpan[0] + 1) * to.widthPerUnit;
  if (!from.affected || !to.affected) {
    bands.push({ source, target, value, affected: false });
    return;
  }
  const given = sideOf(from, link.fromSpan);
  const taken = sideOf(to, link.toSpan);
  if (given === null || taken === null || link.map === 'all' || link.fromSpan === null || link.toSpan === null) {
    bands.push({ source, target, value, affected: given?.length !== 0 && taken?.length !== 0 });
    return;
  }
  const shift = link.toSpan[0] - link.fromSpan[0];
  const reached = intersectSpans(
    given.map(([first, last]): Span => [first + shift, last + shift]),
    taken,
  );
  const part = countPieces(reached) / (link.toSpan[1] - link.toSpan[0] + 1);
  for (const [width, affected] of [
    [value * part, true],
    [value * (1 - part), false],
  ] as const) {
    if (width > 0) bands.push({ source, target, value: width, affected });
  }
}

function bulkWidth(link: FlowLink, from: FlowLot): number {
  const massMicro = parseQuantity(link.mass);
  return massMicro > 0 ? massMicro / MICRO : (parseQuantity(link.quantity) / MICRO) * from.widthPerUnit;
}

interface End {
  readonly node: Pick<RiverNode, 'id' | 'label' | 'note' | 'layer' | 'kind'>;
  hitWidth: number;
  allWidth: number;
  readonly micro: Map<string, number>;
}

/** Customers and places: where parts of affected lots are now. What was consumed is a link already. */
function addEnds(bands: RiverLink[], parts: readonly FlowPart[], known: ReadonlyMap<string, KnownLot>): RiverNode[] {
  const ends = new Map<string, End>();
  for (const part of parts) {
    const source = known.get(part.lot);
    if (source === undefined || part.fate === 'consumed') continue;
    const { lot, id } = source;
    const allMicro = parseQuantity(part.quantity);
    if (allMicro <= 0) continue;
    const hit = (parseQuantity(part.affectedQuantity) / MICRO) * lot.widthPerUnit;
    const all = (allMicro / MICRO) * lot.widthPerUnit;
    const node = endNode(part);
    const end = ends.get(node.id) ?? { node, hitWidth: 0, allWidth: 0, micro: new Map<string, number>() };
    ends.set(node.id, end);
    end.hitWidth += hit;
    end.allWidth += all;
    const unit = lot.pieces === null ? lot.unit : 'pieces';
    end.micro.set(unit, (end.micro.get(unit) ?? 0) + allMicro);
    const target = end.node.id;
    if (hit > 0) bands.push({ source: id, target, value: hit, affected: true });
    if (hit < all) bands.push({ source: id, target, value: all - hit, affected: false });
  }
  return [...ends.values()].map(endOf);
}

/** Kilograms and pieces are not added up: an end that has both states no quantity. */
function endOf({ node, hitWidth, allWidth, micro }: End): RiverNode {
  const [only, ...more] = micro;
  const amount = only !== undefined && more.length === 0 ? { quantityMicro: only[1], unit: only[0] } : { quantityMicro: 0 };
  return { ...node, ...amount, affectedShare: hitWidth / allWidth, at: null };
}

function endNode({ fate, at, customer, customerName }: FlowPart): End['node'] {
  if (fate === 'dispatched') {
    const who = customer ?? at;
    return { id: riverCustomerId(who), label: who, note: customerName ?? '', layer: 'customer', kind: 'customer' };
  }
  const kind = PLACES[fate] ?? fate;
  const label = fate === 'on-hand' ? at : kind;
  return { id: `place ${fate} ${label}`, label, note: fate === 'on-hand' ? kind : '', layer: 'whereabouts', kind };
}
