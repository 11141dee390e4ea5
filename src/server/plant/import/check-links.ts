import { formatQuantity, MICRO, QuantityFault } from '../../../../shared/quantity.js';
import { blendingMass } from './blending.js';
import type { Breath } from './breath.js';
import type { Int32List } from './columns.js';
import type { Faults } from './faults.js';
import { NOT_GIVEN } from './folder.js';
import type { PlantState } from './import.query.js';
import type { KnownLots } from './known-lots.js';
import type { OnProgress } from './read-folder.js';

const PROGRESS_EVERY = 50_000;

type FaultAt = (column: string, value: string | undefined, code: string, detail: string) => void;

/** Says that a row's lot is in neither place, once for each row. Answers whether more can be asked of the row. */
function checkLotNamed(column: string, lot: number, lots: KnownLots, fault: FaultAt): boolean {
  if (lot === NOT_GIVEN) return false;
  if (!lots.isNowhere(lot)) return lots.isSound(lot);
  const code = lots.code(lot);
  if (!lots.folder.brokenOff.has('lots.csv')) fault(column, code, 'unknown-lot', `no lot ${code} in lots.csv or the plant`);
  return false;
}

/**
 * Fills in the pieces of one side of a row: none given means all of a numbered lot, and 0 to 0 stands for a bulk lot.
 * @see docs/rules/import.md I-10
 */
function settlePieces(row: number, lot: number, first: Int32List, last: Int32List, name: string, lots: KnownLots, fault: FaultAt): void {
  const pieces = lots.pieces(lot);
  const from = first.at(row);
  const to = last.at(row);
  if (pieces === 0) {
    if (from !== NOT_GIVEN) fault(name, String(from), 'bulk-with-pieces', `${lots.code(lot)} is a bulk lot: it has no piece numbers`);
    first.set(row, 0);
    last.set(row, 0);
  } else if (from === NOT_GIVEN) {
    first.set(row, 1);
    last.set(row, pieces);
  } else if (to > pieces) {
    fault(name.replace('first', 'last'), String(to), 'pieces-outside', `${lots.code(lot)} has pieces 1 to ${pieces}`);
  }
}

/** A quantity that goes out of a lot: as many as its pieces, whole where the item is counted. */
function checkQuantity(micro: number, lot: number, first: number, last: number, lots: KnownLots, fault: FaultAt): number {
  if (lots.pieces(lot) > 0) {
    const counted = (last - first + 1) * MICRO;
    if (micro !== NOT_GIVEN && micro !== counted) {
      fault(
        'quantity',
        formatQuantity(micro),
        'quantity-differs',
        `pieces ${first} to ${last} are ${formatQuantity(counted)}; leave the cell empty or say so`,
      );
    }
    return counted;
  }
  if (micro !== NOT_GIVEN && lots.itemOf(lot).unit === 'each' && micro % MICRO !== 0) {
    fault('quantity', formatQuantity(micro), 'not-whole', `item ${lots.itemOf(lot).code} is counted: a quantity of it is a whole number`);
  }
  return micro;
}

/** ST-2: what is in quarantine has not been used or shipped. @see docs/rules/import.md I-12 */
function checkReleased(column: string, lot: number, lots: KnownLots, fault: FaultAt): void {
  if (lots.folder.lots[lot]?.status !== 'quarantine') return;
  fault(column, lots.code(lot), 'not-released', `${lots.code(lot)} comes over in quarantine: only released lots are used or shipped`);
}

/** Checks every link against the lots it names, and settles its pieces and quantity. @see docs/rules/import.md I-9, I-10 */
export async function checkLinks(
  lots: KnownLots,
  plant: PlantState,
  faults: Faults,
  breath: Breath,
  onProgress: OnProgress,
): Promise<void> {
  const { links, runs } = lots.folder;
  for (const { line, run } of runs) {
    if (plant.runsTaken.has(run))
      faults.add({ file: 'links.csv', line, column: 'run', value: run }, 'exists', `run ${run} is in the plant already`);
  }
  for (let row = 0; row < links.count; row++) {
    if (breath.due()) await breath.take();
    if (row % PROGRESS_EVERY === 0) onProgress({ step: 'checking', file: 'links.csv', rows: row });
    const line = links.line.at(row);
    const before = faults.count;
    const fault: FaultAt = (column, value, code, detail) => faults.add({ file: 'links.csv', line, column, value }, code, detail);
    const fromSound = checkLotNamed('from_lot', links.from.at(row), lots, fault);
    const toSound = checkLotNamed('to_lot', links.to.at(row), lots, fault);
    if (fromSound && toSound && links.sound.at(row) === 1) checkLink(lots, row, plant.at, fault);
    if (!fromSound || !toSound || faults.count > before) links.sound.set(row, 0);
  }
}

function checkLink(lots: KnownLots, row: number, now: string, fault: FaultAt): void {
  const { links, instants, runs } = lots.folder;
  const from = links.from.at(row);
  const to = links.to.at(row);
  settlePieces(row, from, links.fromFirst, links.fromLast, 'from_first', lots, fault);
  settlePieces(row, to, links.toFirst, links.toLast, 'to_first', lots, fault);
  const first = links.fromFirst.at(row);
  const last = links.fromLast.at(row);
  links.quantity.set(row, checkQuantity(links.quantity.at(row), from, first, last, lots, fault));
  checkMass(lots, from, links.quantity.at(row), to, fault);
  if (links.each.at(row) === 1) checkEach(lots, row, fault);
  checkReleased('from_lot', from, lots, fault);
  const at = instants[links.at.at(row)] as string;
  if (at > now) fault('at', at, 'not-yet', 'is still to come');
  const born = lots.bornAt(from);
  if (at < born) fault('at', at, 'used-before-made', `${lots.code(from)} came into being at ${born}, after it went in`);
  if (lots.bornAt(to) < born && runs[links.run.at(row)]!.kind !== 'rework') {
    fault(
      'to_lot',
      lots.code(to),
      'made-before-inputs',
      `${lots.code(to)} was made at ${lots.bornAt(to)}, before ${lots.code(from)} was there (${born})`,
    );
  }
}

function checkMass(lots: KnownLots, from: number, quantity: number, to: number, fault: FaultAt): void {
  if (quantity === NOT_GIVEN) return;
  try {
    blendingMass(lots.itemOf(from), quantity, lots.itemOf(to));
  } catch (error) {
    if (!(error instanceof QuantityFault)) throw error;
    fault('quantity', formatQuantity(quantity), 'too-much', `its mass: ${error.message}`);
  }
}

function checkEach(lots: KnownLots, row: number, fault: FaultAt): void {
  const { links } = lots.folder;
  const bulk = [links.from.at(row), links.to.at(row)].find((lot) => lots.pieces(lot) === 0);
  if (bulk !== undefined) {
    fault('map', 'each', 'each-of-bulk', `each piece into each needs numbered lots on both sides, and ${lots.code(bulk)} is bulk`);
    return;
  }
  const out = links.fromLast.at(row) - links.fromFirst.at(row) + 1;
  const into = links.toLast.at(row) - links.toFirst.at(row) + 1;
  if (out !== into) fault('map', 'each', 'each-unequal', `${out} pieces cannot go each into one of ${into}`);
}

/** Checks every line of a shipment, and settles its pieces and quantity. @see docs/rules/import.md I-11 */
export async function checkShipmentLines(lots: KnownLots, faults: Faults, breath: Breath): Promise<void> {
  const { shipmentLines: lines, shipments } = lots.folder;
  for (let row = 0; row < lines.count; row++) {
    if (breath.due()) await breath.take();
    const line = lines.line.at(row);
    const before = faults.count;
    const fault: FaultAt = (column, value, code, detail) => faults.add({ file: 'shipments.csv', line, column, value }, code, detail);
    const lot = lines.lot.at(row);
    const sound = checkLotNamed('lot', lot, lots, fault);
    if (sound && lines.sound.at(row) === 1) {
      settlePieces(row, lot, lines.first, lines.last, 'first', lots, fault);
      lines.quantity.set(row, checkQuantity(lines.quantity.at(row), lot, lines.first.at(row), lines.last.at(row), lots, fault));
      if (lines.quantity.at(row) === NOT_GIVEN) {
        fault(
          'quantity',
          undefined,
          'missing',
          'how much was shipped of a bulk lot is needed: without it a recall would not find the customer',
        );
      }
      checkReleased('lot', lot, lots, fault);
      const at = shipments[lines.shipment.at(row)]!.at;
      if (at !== '' && at < lots.bornAt(lot)) {
        fault('at', at, 'shipped-before-made', `${lots.code(lot)} came into being at ${lots.bornAt(lot)}, after it was shipped`);
      }
    }
    if (!sound || faults.count > before) lines.sound.set(row, 0);
  }
}
