import { isValidGln, isValidGtin } from '../../../../shared/gs1/check-digit.js';
import { ITEM_CLASSES } from '../catalogue/catalogue.facts.js';
import { Cells } from './cells.js';
import type { Faults } from './faults.js';
import type { Folder } from './folder.js';
import type { TakeRow } from './read-csv.js';

const LONGEST_NAME = 200;
const LONGEST_CONTACT = 500;
const MOST_SHELF_DAYS = 36_500;

/** @see docs/rules/import.md I-6 */
export function partyRows(folder: Folder, faults: Faults): TakeRow {
  const cells = new Cells('parties.csv', faults);
  return (row, line) => {
    cells.begin(row, line);
    const code = cells.code('code');
    const name = cells.plainText('name', LONGEST_NAME);
    const role = cells.oneOf('role', ['supplier', 'customer', 'both']);
    const gln = cells.optionalCode('gln');
    if (gln !== undefined && !isValidGln(gln))
      cells.fault('gln', 'bad-gln', 'is no GLN: 13 digits, the last of them the check digit of the others');
    const contact = cells.optionalText('contact', LONGEST_CONTACT);
    if (code === undefined) return;
    const before = folder.parties.get(code);
    if (before) cells.fault('code', 'doubled-code', `party ${code} stands on line ${before.line} already`);
    else folder.parties.set(code, { line, party: { code, name: name ?? code, role: role ?? 'both', gln, contact } });
  };
}

/** @see docs/rules/import.md I-6, I-7 */
export function itemRows(folder: Folder, faults: Faults): TakeRow {
  const cells = new Cells('items.csv', faults);
  const lineOfGtin = new Map<string, number>();
  return (row, line) => {
    cells.begin(row, line);
    const code = cells.code('code');
    const name = cells.plainText('name', LONGEST_NAME);
    const itemClass = cells.oneOf('class', ITEM_CLASSES);
    const unit = cells.oneOf('unit', ['kg', 'L', 'm', 'each']);
    const gtin = cells.optionalCode('gtin');
    if (gtin !== undefined) checkGtin(cells, gtin, lineOfGtin);
    const densityMicro = cells.quantity('density_kg_per_l');
    const shelfLifeDays = cells.count('shelf_life_days', MOST_SHELF_DAYS);
    if (code === undefined) return;
    const before = folder.items.get(code);
    if (before) {
      cells.fault('code', 'doubled-code', `item ${code} stands on line ${before.line} already`);
      return;
    }
    const item = {
      code,
      name: name ?? code,
      class: itemClass ?? 'component',
      unit: unit ?? 'each',
      gtin,
      densityMicro,
      shelfLifeDays,
    } as const;
    folder.items.set(code, { line, item });
  };
}

function checkGtin(cells: Cells<'items.csv'>, gtin: string, lineOf: Map<string, number>): void {
  if (!isValidGtin(gtin)) {
    cells.fault('gtin', 'bad-gtin', 'is no GTIN: 8, 12, 13 or 14 digits, the last of them the check digit of the others');
    return;
  }
  const before = lineOf.get(gtin);
  if (before === undefined) lineOf.set(gtin, cells.line);
  else cells.fault('gtin', 'doubled-gtin', `the item on line ${before} has this GTIN already`);
}
