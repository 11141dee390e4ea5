import { MICRO } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { MAX_PIECE, type SpanSet, wholeLot } from '../../../../shared/spans.js';
import { addDays } from '../../../../shared/time.js';
import type { Item, Location, Party, Revised } from '../catalogue/catalogue.facts.js';
import { type LotBorn, onHand } from '../stock/effects.facts.js';
import type { DeliveryBooked, DeliveryLine } from './receiving.facts.js';

/** One line of a delivery as the clerk gives it, quantities already in millionths. */
export interface BookLine {
  readonly item: string;
  readonly quantityMicro: number;
  /** As typed or scanned; absent when the label carries none. */
  readonly supplierLot?: string | undefined;
  /** Serials of the pieces, for items that carry their own. */
  readonly serials?: readonly string[] | undefined;
  readonly containers?: number | undefined;
  readonly madeOn?: string | undefined;
  readonly expiresOn?: string | undefined;
}

export interface BookDelivery {
  readonly supplier: string;
  readonly documentType: string;
  readonly document: string;
  readonly receivedAt: string;
  readonly location: string;
  readonly condition: string;
  readonly note?: string | undefined;
  readonly lines: readonly BookLine[];
}

/** What booking rests on. */
export interface ReceivingState {
  readonly at: string;
  readonly delivery: string;
  readonly supplier: Revised<Party> | undefined;
  readonly location: Revised<Location> | undefined;
  readonly items: ReadonlyMap<string, Revised<Item>>;
  /** A free plant code for each line, in order. */
  readonly codes: readonly string[];
  /** Earlier lots of this supplier, item and supplier lot, a list for each line. */
  readonly earlier: readonly (readonly string[])[];
  /** Deliveries already booked from this supplier under this document. */
  readonly sameDocument: readonly string[];
  /** Serials on the lines that exist already within their item. */
  readonly serialsTaken: readonly { readonly item: string; readonly serial: string }[];
}

/**
 * Books a delivery: one new lot a line, whole, in quarantine. All or nothing.
 * @throws Refusal with every fault of every line, each with a pointer to it
 * @see docs/rules/receiving.md
 */
export function decideBookDelivery(command: BookDelivery, state: ReceivingState): DeliveryBooked {
  const no = new Reasons();
  checkHead(no, command, state);
  command.lines.forEach((line, i) => checkLine(no, line, i, command, state));
  checkSerials(no, command, state);
  no.throwIfAny();
  const born = command.lines.map((line, i) => bornOf(line, i, command, state));
  return {
    kind: 'DeliveryBooked',
    v: 1,
    delivery: state.delivery,
    supplier: command.supplier,
    documentType: command.documentType,
    document: command.document,
    receivedAt: command.receivedAt,
    location: command.location,
    condition: command.condition,
    note: command.note,
    lines: born.map((lot, i): DeliveryLine => ({
      lot: lot.lot,
      containers: command.lines[i]!.containers ?? null,
      earlier: [...state.earlier[i]!, ...sameOnLinesBefore(command.lines, i, state.codes)],
      expiredOnArrival: lot.expiresOn !== undefined && lot.expiresOn < command.receivedAt.slice(0, 10),
    })),
    born,
  };
}

/** The lots of a delivery with all their pieces, and the containers a bulk one came in. */
export const arrivedBy = ({ born = [], lines }: DeliveryBooked): { lot: string; spans: SpanSet | null; containers: number | null }[] =>
  born.map(({ lot, pieces }, i) => ({ lot, spans: pieces === null ? null : wholeLot(pieces), containers: lines[i]!.containers }));

/** Lots of this very delivery that bear the same supplier lot on an earlier line. */
const sameOnLinesBefore = (lines: readonly BookLine[], i: number, codes: readonly string[]): string[] =>
  lines.slice(0, i).flatMap((line, k) => {
    const same = line.supplierLot !== undefined && line.supplierLot === lines[i]!.supplierLot && line.item === lines[i]!.item;
    return same ? [codes[k]!] : [];
  });

function checkHead(no: Reasons, command: BookDelivery, state: ReceivingState): void {
  if (!state.supplier) {
    no.unknown('supplier-unknown', `no party ${command.supplier}`, { pointer: '/supplier' });
  } else if (state.supplier.role === 'customer') {
    no.conflict('not-a-supplier', `${command.supplier} is a customer, not a supplier`, { pointer: '/supplier' });
  }
  if (!state.location) no.unknown('location-unknown', `no location ${command.location}`, { pointer: '/location' });
  if (command.receivedAt > state.at) {
    no.conflict('not-yet', `received at ${command.receivedAt}, which is still to come`, { pointer: '/receivedAt' });
  }
  for (const delivery of state.sameDocument) {
    no.conflict('document-booked', `${command.documentType} ${command.document} of ${command.supplier} is booked as ${delivery}`, {
      pointer: '/document',
      delivery,
    });
  }
}

function checkLine(no: Reasons, line: BookLine, i: number, command: BookDelivery, state: ReceivingState): void {
  const pointer = `/lines/${i}`;
  const item = state.items.get(line.item);
  if (!item) {
    no.unknown('item-unknown', `no item ${line.item}: add it to the catalogue, or check the code`, { pointer: `${pointer}/item` });
  } else {
    checkPieces(no, line, item, pointer);
  }
  if (line.quantityMicro <= 0) {
    no.malformed('quantity-not-positive', 'a quantity received is more than nothing', { pointer: `${pointer}/quantity` });
  }
  const receivedOn = command.receivedAt.slice(0, 10);
  if (line.madeOn !== undefined && line.madeOn > receivedOn) {
    no.conflict('made-after-receipt', `made on ${line.madeOn}, after it was received`, { pointer: `${pointer}/madeOn` });
  }
  if (line.madeOn !== undefined && line.expiresOn !== undefined && line.expiresOn < line.madeOn) {
    no.conflict('expires-before-made', `expires on ${line.expiresOn}, before it was made`, { pointer: `${pointer}/expiresOn` });
  }
}

function checkPieces(no: Reasons, line: BookLine, item: Revised<Item>, pointer: string): void {
  if (item.unit === 'each' && line.quantityMicro % MICRO !== 0) {
    no.malformed('not-whole', `${item.code} is counted: give a whole number`, { pointer: `${pointer}/quantity` });
  }
  if (item.tracking !== 'bulk' && line.quantityMicro / MICRO > MAX_PIECE) {
    no.conflict('too-many-pieces', `a lot has at most ${MAX_PIECE} numbered pieces`, { pointer: `${pointer}/quantity` });
  }
  if (item.tracking === 'serial' && line.serials?.length !== line.quantityMicro / MICRO) {
    no.conflict('serials-missing', `${item.code} carries serials: give one for each piece`, { pointer: `${pointer}/serials` });
  }
  if (item.tracking !== 'serial' && line.serials !== undefined) {
    no.conflict('no-serials-here', `${item.code} carries no serials`, { pointer: `${pointer}/serials` });
  }
}

/** A serial is unique within its item, in the plant and in the delivery. */
function checkSerials(no: Reasons, command: BookDelivery, state: ReceivingState): void {
  const key = (item: string, serial: string): string => `${item}\u0000${serial}`;
  const taken = new Set(state.serialsTaken.map((one) => key(one.item, one.serial)));
  const seen = new Set<string>();
  command.lines.forEach((line, i) =>
    line.serials?.forEach((serial, k) => {
      const pointer = `/lines/${i}/serials/${k}`;
      const own = key(line.item, serial);
      if (taken.has(own)) no.conflict('serial-taken', `${line.item} with serial ${serial} exists already`, { pointer, serial });
      else if (seen.has(own)) no.conflict('serial-named-twice', `${serial} of ${line.item} is named twice`, { pointer, serial });
      seen.add(own);
    }),
  );
}

function bornOf(line: BookLine, i: number, command: BookDelivery, state: ReceivingState): LotBorn {
  const item = state.items.get(line.item)!;
  const lot = state.codes[i]!;
  const shelfLife = item.shelfLifeDays !== undefined && line.madeOn !== undefined ? addDays(line.madeOn, item.shelfLifeDays) : undefined;
  return {
    lot,
    item: item.code,
    itemRevision: item.revision,
    unit: item.unit,
    pieces: item.tracking === 'bulk' ? null : line.quantityMicro / MICRO,
    quantityMicro: line.quantityMicro,
    origin: 'received',
    bornAt: command.receivedAt,
    place: onHand(command.location),
    status: 'quarantine',
    madeOn: line.madeOn,
    expiresOn: line.expiresOn ?? shelfLife,
    supplier: command.supplier,
    supplierLot: line.supplierLot ?? lot,
    supplierLotAssigned: line.supplierLot === undefined,
    source: state.delivery,
    serials: line.serials,
  };
}
