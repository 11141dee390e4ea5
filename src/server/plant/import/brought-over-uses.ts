import { MICRO } from '../../../../shared/quantity.js';
import { countPieces, type Span, type SpanSet, spanSet } from '../../../../shared/spans.js';
import type { Shipment, ShipmentLine, ShipmentsBroughtOver } from '../dispatch/dispatch.facts.js';
import type { LinkGroup, LinkMade, Movement, Place } from '../stock/effects.facts.js';
import { blendingMass } from './blending.js';
import { Breath } from './breath.js';
import { linesByShipment, linksByRun, ROWS_AN_ENTRY } from './brought-over.js';
import { NOT_GIVEN } from './folder.js';
import type { LinksBroughtOver } from './import.facts.js';
import type { KnownLots } from './known-lots.js';
import type { Takings } from './takings.js';

/** What one run or shipment takes of a lot. */
interface Taken {
  readonly spans: Span[];
  quantityMicro: number;
}

/** Links by run, a run whole, and what they took. @see docs/rules/import.md I-9, I-10 */
export async function* linkFacts(importCode: string, lots: KnownLots, takings: Takings): AsyncGenerator<LinksBroughtOver> {
  const { runs } = lots.folder;
  const { starts, rows } = await linksByRun(lots.folder, new Breath());
  let linked: LinkGroup[] = [];
  let moved: Movement[] = [];
  let held = 0;
  for (let run = 0; run < runs.length; run++) {
    const own = rows.subarray(starts[run], starts[run + 1]);
    if (held > 0 && held + own.length > ROWS_AN_ENTRY) {
      yield { kind: 'LinksBroughtOver', v: 1, import: importCode, linked, moved };
      linked = [];
      moved = [];
      held = 0;
    }
    linked.push(...groupsOf(run, own, lots));
    moved.push(...consumedBy(run, own, lots, takings));
    held += own.length;
  }
  if (held > 0) yield { kind: 'LinksBroughtOver', v: 1, import: importCode, linked, moved };
}

/** The links of a run, those of one instant together. */
function groupsOf(run: number, rows: Int32Array, lots: KnownLots): LinkGroup[] {
  const { links, instants, runs } = lots.folder;
  const byInstant = new Map<string, LinkMade[]>();
  for (const row of rows) {
    const at = instants[links.at.at(row)]!;
    const group = byInstant.get(at) ?? [];
    if (group.length === 0) byInstant.set(at, group);
    group.push(linkOf(row, lots));
  }
  const { run: code, kind } = runs[run]!;
  return [...byInstant].map(([at, made]) => ({ run: code, kind, at, links: made }));
}

function linkOf(row: number, lots: KnownLots): LinkMade {
  const { links } = lots.folder;
  const from = links.from.at(row);
  const to = links.to.at(row);
  const quantity = links.quantity.at(row);
  const quantityMicro = quantity === NOT_GIVEN ? 0 : quantity;
  return {
    from: lots.code(from),
    fromSpan: lots.pieces(from) === 0 ? null : [links.fromFirst.at(row), links.fromLast.at(row)],
    to: lots.code(to),
    toSpan: lots.pieces(to) === 0 ? null : [links.toFirst.at(row), links.toLast.at(row)],
    quantityMicro,
    massMicro: blendingMass(lots.itemOf(from), quantityMicro, lots.itemOf(to)),
    map: links.each.at(row) === 1 ? 'each' : 'all',
  };
}

/** A piece that several links of one run name was consumed once. */
function consumedBy(run: number, rows: Int32Array, lots: KnownLots, takings: Takings): Movement[] {
  const { links, runs } = lots.folder;
  const taken = new Map<number, Taken>();
  for (const row of rows) {
    const quantity = links.quantity.at(row);
    add(taken, links.from.at(row), links.fromFirst.at(row), links.fromLast.at(row), quantity === NOT_GIVEN ? 0 : quantity);
  }
  return takeAll(taken, { fate: 'consumed', at: runs[run]!.run }, lots, takings);
}

function add(taken: Map<number, Taken>, lot: number, first: number, last: number, quantityMicro: number): void {
  const before = taken.get(lot) ?? { spans: [], quantityMicro: 0 };
  if (first > 0) before.spans.push([first, last]);
  before.quantityMicro += quantityMicro;
  taken.set(lot, before);
}

function takeAll(taken: ReadonlyMap<number, Taken>, to: Place, lots: KnownLots, takings: Takings): Movement[] {
  return [...taken].flatMap(([lot, part]) => takings.take(lot, spansOf(lot, part, lots), part.quantityMicro, to));
}

const spansOf = (lot: number, part: Taken, lots: KnownLots): SpanSet | null => (lots.pieces(lot) === 0 ? null : spanSet(part.spans));

/** Shipments, each whole. @see docs/rules/import.md I-11 */
export async function* shipmentFacts(
  importCode: string,
  lots: KnownLots,
  takings: Takings,
): AsyncGenerator<ShipmentsBroughtOver & { readonly import: string }> {
  const { folder } = lots;
  const { starts, rows } = await linesByShipment(folder, new Breath());
  let shipments: Shipment[] = [];
  let moved: Movement[] = [];
  let held = 0;
  for (const [number, { shipment, customer, at }] of folder.shipments.entries()) {
    const own = rows.subarray(starts[number], starts[number + 1]);
    if (held > 0 && held + own.length > ROWS_AN_ENTRY) {
      yield { kind: 'ShipmentsBroughtOver', v: 1, import: importCode, shipments, moved };
      shipments = [];
      moved = [];
      held = 0;
    }
    const { taken, lines } = shipped(own, lots);
    const customerRevision = folder.parties.has(customer) ? 1 : lots.plant.parties.get(customer)!.revision;
    shipments.push({ shipment, customer, customerRevision, shippedAt: at, lines });
    moved.push(...takeAll(taken, { fate: 'dispatched', at: shipment }, lots, takings));
    held += own.length;
  }
  if (held > 0) yield { kind: 'ShipmentsBroughtOver', v: 1, import: importCode, shipments, moved };
}

/** One line a lot, as a shipment has. */
function shipped(rows: Int32Array, lots: KnownLots): { taken: ReadonlyMap<number, Taken>; lines: ShipmentLine[] } {
  const { shipmentLines } = lots.folder;
  const taken = new Map<number, Taken>();
  for (const row of rows)
    add(taken, shipmentLines.lot.at(row), shipmentLines.first.at(row), shipmentLines.last.at(row), shipmentLines.quantity.at(row));
  const lines = [...taken].map(([lot, part]): ShipmentLine => {
    const spans = spansOf(lot, part, lots);
    return { lot: lots.code(lot), spans, quantityMicro: spans === null ? part.quantityMicro : countPieces(spans) * MICRO };
  });
  return { taken, lines };
}
