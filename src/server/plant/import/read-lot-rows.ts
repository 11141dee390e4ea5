import { Cells } from './cells.js';
import type { Faults } from './faults.js';
import type { Folder } from './folder.js';
import type { TakeRow } from './read-csv.js';

/**
 * Rows of lots.csv. A row with a fault keeps its code all the same, so that the rows that name the lot are not reported too.
 * @see docs/rules/import.md I-5, I-8
 */
export function lotRows(folder: Folder, faults: Faults): TakeRow {
  const cells = new Cells('lots.csv', faults);
  const lineOf: number[] = [];
  return (row, line) => {
    cells.begin(row, line);
    const known = folder.lotNames.idOf(cells.text('lot'));
    if (known !== undefined) {
      cells.fault('lot', 'doubled-code', `lot ${cells.text('lot')} stands on line ${lineOf[known]} already`);
      return;
    }
    const lot = cells.code('lot');
    const item = cells.code('item');
    const quantityMicro = cells.quantity('quantity') ?? null;
    const pieces = cells.count('pieces') ?? null;
    const origin = cells.oneOf('origin', ['received', 'made', 'opening']);
    const at = cells.instant('at');
    const supplier = cells.optionalCode('supplier');
    const supplierLot = cells.optionalCode('supplier_lot');
    const expiresOn = cells.date('expires_on');
    const status = cells.text('status') === '' ? null : cells.oneOf('status', ['quarantine', 'released']);
    if (lot === undefined) return;
    folder.lotNames.name(lot);
    lineOf.push(line);
    folder.lots.push({
      line,
      sound: cells.sound,
      lot,
      item: item ?? '',
      quantityMicro,
      pieces,
      origin: origin ?? 'opening',
      at: at ?? '',
      supplier,
      supplierLot,
      expiresOn,
      status: status ?? null,
    });
  };
}
