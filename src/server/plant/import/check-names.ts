import { formatQuantity, MICRO } from '../../../../shared/quantity.js';
import type { Breath } from './breath.js';
import type { Faults } from './faults.js';
import type { Folder, LotRow } from './folder.js';
import type { PlantState } from './import.query.js';
import type { KnownLots } from './known-lots.js';

/**
 * Items and parties that the plant has already: an import adds, it never revises.
 * @see docs/rules/import.md I-6, I-7
 */
export function checkCatalogue(folder: Folder, plant: PlantState, faults: Faults): void {
  for (const { line, party } of folder.parties.values()) {
    if (!plant.parties.has(party.code)) continue;
    faults.add({ file: 'parties.csv', line, column: 'code', value: party.code }, 'exists', `party ${party.code} is in the plant already`);
  }
  const withGtin = new Map([...plant.items.values()].filter((item) => item.gtin !== undefined).map((item) => [item.gtin!, item.code]));
  for (const { line, item } of folder.items.values()) {
    if (plant.items.has(item.code)) {
      faults.add({ file: 'items.csv', line, column: 'code', value: item.code }, 'exists', `item ${item.code} is in the plant already`);
    }
    const other = item.gtin === undefined ? undefined : withGtin.get(item.gtin);
    if (other === undefined || other === item.code) continue;
    faults.add({ file: 'items.csv', line, column: 'gtin', value: item.gtin }, 'doubled-gtin', `item ${other} of the plant has this GTIN`);
  }
}

/** @see docs/rules/import.md I-8 */
export async function checkLots(folder: Folder, plant: PlantState, lots: KnownLots, faults: Faults, breath: Breath): Promise<void> {
  for (const [id, row] of folder.lots.entries()) {
    if (breath.due()) await breath.take();
    const before = faults.count;
    checkLot(row, folder, plant, lots, faults);
    if (faults.count > before || !lots.item(row.item)) lots.setFaulty(id);
  }
}

function checkLot(row: LotRow, folder: Folder, plant: PlantState, lots: KnownLots, faults: Faults): void {
  const fault = (column: string, value: string, code: string, detail: string): void =>
    faults.add({ file: 'lots.csv', line: row.line, column, value }, code, detail);
  if (plant.lotsTaken.has(row.lot)) fault('lot', row.lot, 'exists', `lot ${row.lot} is in the plant already`);
  if (row.at > plant.at) fault('at', row.at, 'not-yet', 'is still to come');
  if (row.supplier !== undefined) checkParty(row.supplier, 'supplier', folder, plant, fault);
  if (row.item === '') return;
  const item = lots.item(row.item);
  if (!item) {
    // Of a file that broke off nobody can say what else it names: its own fault is reported, and not a thousand that follow from it.
    if (!folder.brokenOff.has('items.csv')) fault('item', row.item, 'unknown-item', `no item ${row.item} in items.csv or the plant`);
    return;
  }
  if (!row.sound) return;
  const quantity = row.quantityMicro === null ? '' : formatQuantity(row.quantityMicro);
  if (row.pieces !== null && item.unit !== 'each') {
    fault(
      'pieces',
      String(row.pieces),
      'pieces-not-counted',
      `item ${item.code} is measured in ${item.unit}: only what is counted has numbered pieces`,
    );
  } else if (row.pieces !== null && row.quantityMicro !== null && row.quantityMicro !== row.pieces * MICRO) {
    fault('quantity', quantity, 'quantity-differs', `the lot has ${row.pieces} pieces, so that is its quantity`);
  } else if (row.quantityMicro !== null && item.unit === 'each' && row.quantityMicro % MICRO !== 0) {
    fault('quantity', quantity, 'not-whole', `item ${item.code} is counted: a quantity of it is a whole number`);
  }
}

type FaultAt = (column: string, value: string, code: string, detail: string) => void;

/** A party that a row names, as what it must be. */
export function checkParty(code: string, as: 'supplier' | 'customer', folder: Folder, plant: PlantState, fault: FaultAt): void {
  const party = folder.parties.get(code)?.party ?? plant.parties.get(code);
  if (!party) {
    if (!folder.brokenOff.has('parties.csv')) fault(as, code, `unknown-${as}`, `no party ${code} in parties.csv or the plant`);
  } else if (party.role !== 'both' && party.role !== as) fault(as, code, `not-a-${as}`, `${code} is a ${party.role}, not a ${as}`);
}
