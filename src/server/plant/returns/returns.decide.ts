import { formatQuantity, massMicro, MICRO } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { countPieces, formatSpans, intersectSpans, type SpanSet, subtractSpans } from '../../../../shared/spans.js';
import type { Item, Location, Party, Revised } from '../catalogue/catalogue.facts.js';
import { checkLines } from '../dispatch/asked-lines.decide.js';
import type { AskedLine, AskedPart, SerialPiece } from '../dispatch/asked-lines.facts.js';
import { checkCustomer } from '../dispatch/dispatch.decide.js';
import { type LinkGroup, type LotBorn, type Movement, onHand, type StatusChange } from '../stock/effects.facts.js';
import type { LotState, PartAt } from '../stock/lot-state.facts.js';
import { type Part, settlePart, whereabouts } from '../stock/part.decide.js';
import type { GoodsReturned, ReturnLine } from './returns.facts.js';

interface ReturnAsked extends AskedLine {
  /** The shipment it went out in, where the paper says so. */
  readonly shipment?: string | undefined;
}

export interface ReturnGoods {
  readonly customer: string;
  readonly documentType: string;
  readonly document: string;
  readonly returnedAt: string;
  readonly location: string;
  readonly condition: string;
  readonly note?: string | undefined;
  readonly lines: readonly ReturnAsked[];
}

/** A shipment as a return sees it. */
export interface ShipmentThen {
  readonly customer: string;
  readonly shippedAt: string;
}

/** What booking a return rests on. */
export interface ReturnState {
  readonly at: string;
  readonly returned: string;
  readonly customer: Revised<Party> | undefined;
  readonly location: Revised<Location> | undefined;
  readonly sameDocument: readonly string[];
  readonly serials: ReadonlyMap<string, SerialPiece>;
  readonly parts: readonly (AskedPart & { readonly state: LotState | undefined })[];
  /** Every shipment the lots are out in, and those the lines name. */
  readonly shipments: ReadonlyMap<string, ShipmentThen>;
  /** Items of the lots, at the lots' revisions, by lot. */
  readonly items: ReadonlyMap<string, Item>;
  /** A free plant code for each line, for bulk that becomes a lot of its own. */
  readonly codes: readonly string[];
}

interface Effects {
  readonly moved: Movement[];
  readonly restatused: StatusChange[];
  readonly born: LotBorn[];
  readonly linked: LinkGroup[];
  readonly lines: ReturnLine[];
}

/**
 * Books goods that came back. Pieces are the pieces they always were and stand in quarantine; a quantity of a bulk lot cannot be told
 * from other stock, so it becomes a lot of its own, linked to the one it was of. All or nothing.
 * @throws Refusal with every reason of every line, each with a pointer to it
 * @see docs/rules/dispatch.md D-10 to D-14
 */
export function decideReturn(command: ReturnGoods, state: ReturnState): GoodsReturned {
  const no = new Reasons();
  checkHead(no, command, state);
  checkLines(no, command.lines, state.serials);
  checkShipments(no, command, state);
  const effects: Effects = { moved: [], restatused: [], born: [], linked: [], lines: [] };
  for (const part of state.parts) {
    const found = new Reasons();
    decidePart(found, part, command, state, effects);
    no.takeOver(found, { pointer: `/lines/${part.line}` });
  }
  no.throwIfAny();
  const { customer, documentType, document, returnedAt, location, condition, note } = command;
  return {
    kind: 'GoodsReturned',
    v: 1,
    returned: state.returned,
    customer,
    documentType,
    document,
    returnedAt,
    location,
    condition,
    note,
    ...effects,
  };
}

function checkHead(no: Reasons, command: ReturnGoods, state: ReturnState): void {
  checkCustomer(no, command.customer, state.customer, '/customer');
  if (!state.location) no.unknown('location-unknown', `no location ${command.location}`, { pointer: '/location' });
  if (command.returnedAt > state.at) {
    no.conflict('not-yet', `returned at ${command.returnedAt}, which is still to come`, { pointer: '/returnedAt' });
  }
  for (const returned of state.sameDocument) {
    no.conflict('document-booked', `${command.documentType} ${command.document} of ${command.customer} is booked as ${returned}`, {
      pointer: '/document',
      returned,
    });
  }
}

function checkShipments(no: Reasons, command: ReturnGoods, state: ReturnState): void {
  command.lines.forEach(({ shipment }, i) => {
    if (shipment === undefined) return;
    const then = state.shipments.get(shipment);
    const pointer = `/lines/${i}/shipment`;
    if (!then) no.unknown('shipment-unknown', `no shipment ${shipment}`, { pointer, shipment });
    else if (then.customer !== command.customer) {
      no.conflict('shipment-of-another', `${shipment} went to ${then.customer}, not to ${command.customer}`, { pointer, shipment });
    }
  });
}

function decidePart(no: Reasons, asked: ReturnState['parts'][number], command: ReturnGoods, state: ReturnState, effects: Effects): void {
  const lot = asked.state;
  if (!lot) {
    no.unknown('lot-unknown', `no lot ${asked.lot}`, { pointer: `/lines/${asked.line}/lot`, lot: asked.lot });
    return;
  }
  const part = settlePart(no, lot, asked.asked, `/lines/${asked.line}`);
  if (!part) return;
  const named = command.lines[asked.line]!.shipment;
  const out = stillOut(lot, command.customer, named, state, effects.moved);
  const back = part.spans === null ? quantityBack(no, lot, part, out, command) : piecesBack(no, lot, part.spans, out, command);
  for (const { place } of back) {
    const { shippedAt } = state.shipments.get(place.at)!;
    if (command.returnedAt < shippedAt) {
      no.conflict('returned-before-shipped', `${place.at} left at ${shippedAt}, after its goods are said to have come back`, {
        lot: lot.lot,
        shipment: place.at,
      });
    }
  }
  if (part.spans === null) returnQuantity(effects, lot, part, back, asked.line, command, state);
  else returnPieces(effects, lot, back, command, named !== undefined);
}

/** Parts of the lot that this customer still has, oldest shipment first, less what earlier lines brought back. */
function stillOut(lot: LotState, customer: string, named: string | undefined, state: ReturnState, moved: readonly Movement[]): PartAt[] {
  const when = (part: PartAt) => `${state.shipments.get(part.place.at)?.shippedAt}\u0000${part.place.at}`;
  return lot.places
    .filter(({ place }) => place.fate === 'dispatched' && state.shipments.get(place.at)?.customer === customer)
    .filter(({ place }) => named === undefined || place.at === named)
    .map((part) => {
      const gone = moved.filter(({ lot: of, from }) => of === lot.lot && from.fate === 'dispatched' && from.at === part.place.at);
      return {
        place: part.place,
        quantityMicro: part.quantityMicro - gone.reduce((sum, movement) => sum + movement.quantityMicro, 0),
        spans: gone.reduce((left, movement) => (left === null ? null : subtractSpans(left, movement.spans ?? [])), part.spans),
      };
    })
    .toSorted((a, b) => (when(a) < when(b) ? -1 : 1));
}

const outWith = (command: ReturnGoods): string => `out with ${command.customer}`;

function piecesBack(no: Reasons, lot: LotState, spans: SpanSet, out: readonly PartAt[], command: ReturnGoods): PartAt[] {
  let missing = spans;
  const back: PartAt[] = [];
  for (const { place, spans: there } of out) {
    const both = intersectSpans(missing, there ?? []);
    if (both.length === 0) continue;
    missing = subtractSpans(missing, both);
    back.push({ place, spans: both, quantityMicro: countPieces(both) * MICRO });
  }
  if (missing.length > 0) {
    const where = whereabouts(lot, missing);
    no.conflict('not-with-customer', `pieces ${formatSpans(missing)} of ${lot.lot} are not ${outWith(command)}: ${where}`, {
      lot: lot.lot,
      pieces: formatSpans(missing),
    });
  }
  return back;
}

function quantityBack(no: Reasons, lot: LotState, part: Part, out: readonly PartAt[], command: ReturnGoods): PartAt[] {
  let leftMicro = part.quantityMicro;
  const back: PartAt[] = [];
  for (const { place, quantityMicro } of out) {
    const takenMicro = Math.min(leftMicro, quantityMicro);
    if (takenMicro === 0) continue;
    leftMicro -= takenMicro;
    back.push({ place, spans: null, quantityMicro: takenMicro });
  }
  if (leftMicro > 0) {
    const outText = formatQuantity(part.quantityMicro - leftMicro);
    const asked = formatQuantity(part.quantityMicro);
    no.conflict('not-with-customer', `${outText} ${lot.unit} of ${lot.lot} are ${outWith(command)}, ${asked} said to have come back`, {
      lot: lot.lot,
      out: outText,
      asked,
    });
  }
  return back;
}

function returnPieces(effects: Effects, lot: LotState, back: readonly PartAt[], command: ReturnGoods, shipmentNamed: boolean): void {
  for (const { place, spans, quantityMicro } of back) {
    effects.lines.push({ lot: lot.lot, spans, quantityMicro, shipment: place.at, shipmentNamed });
    effects.moved.push({ lot: lot.lot, spans, quantityMicro, from: place, to: onHand(command.location) });
    effects.restatused.push({ lot: lot.lot, spans, status: 'quarantine' });
  }
}

function returnQuantity(
  effects: Effects,
  lot: LotState,
  part: Part,
  back: readonly PartAt[],
  line: number,
  command: ReturnGoods,
  state: ReturnState,
): void {
  const becomes = state.codes[line]!;
  const shipmentNamed = command.lines[line]!.shipment !== undefined;
  for (const { place, quantityMicro } of back) {
    effects.lines.push({ lot: lot.lot, spans: null, quantityMicro, shipment: place.at, shipmentNamed, becomes });
    effects.moved.push({ lot: lot.lot, spans: null, quantityMicro, from: place, to: { fate: 'consumed', at: state.returned } });
  }
  effects.born.push({
    lot: becomes,
    item: lot.item,
    itemRevision: lot.itemRevision,
    unit: lot.unit,
    pieces: null,
    quantityMicro: part.quantityMicro,
    origin: 'returned',
    bornAt: command.returnedAt,
    place: onHand(command.location),
    status: 'quarantine',
    madeOn: lot.madeOn ?? undefined,
    expiresOn: lot.expiresOn ?? undefined,
    source: state.returned,
  });
  const density = state.items.get(lot.lot)?.densityMicro ?? null;
  const link = {
    from: lot.lot,
    fromSpan: null,
    to: becomes,
    toSpan: null,
    quantityMicro: part.quantityMicro,
    massMicro: massMicro(part.quantityMicro, lot.unit, density) ?? 0,
    map: 'all' as const,
  };
  effects.linked.push({ run: state.returned, kind: 'return', at: command.returnedAt, links: [link] });
}
