import { Cells } from './cells.js';
import type { Faults } from './faults.js';
import { type Folder, NOT_GIVEN, RUN_KINDS } from './folder.js';
import type { TakeRow } from './read-csv.js';

/**
 * Rows of links.csv.
 * @see docs/rules/import.md I-9, I-10
 */
export function linkRows(folder: Folder, faults: Faults): TakeRow {
  const cells = new Cells('links.csv', faults);
  const instantIds = new Map<string, number>();
  const { links } = folder;
  return (row, line) => {
    cells.begin(row, line);
    const run = runOf(cells, folder);
    const at = instantOf(cells, folder, instantIds);
    const from = lotOf(cells, 'from_lot', folder);
    const [fromFirst, fromLast] = piecesOf(cells, 'from_first', 'from_last');
    const to = lotOf(cells, 'to_lot', folder);
    const [toFirst, toLast] = piecesOf(cells, 'to_first', 'to_last');
    const quantity = cells.quantity('quantity') ?? NOT_GIVEN;
    const map = cells.text('map') === '' ? 'all' : cells.oneOf('map', ['all', 'each']);
    links.line.push(line);
    links.sound.push(cells.sound ? 1 : 0);
    links.run.push(run);
    links.at.push(at);
    links.from.push(from);
    links.fromFirst.push(fromFirst);
    links.fromLast.push(fromLast);
    links.to.push(to);
    links.toFirst.push(toFirst);
    links.toLast.push(toLast);
    links.quantity.push(quantity);
    links.each.push(map === 'each' ? 1 : 0);
  };
}

function runOf(cells: Cells<'links.csv'>, folder: Folder): number {
  const known = folder.runNames.idOf(cells.text('run'));
  if (known !== undefined) {
    const first = folder.runs[known]!;
    if (first.kind !== cells.text('kind')) {
      cells.fault('kind', 'run-differs', `run ${first.run} is ${first.kind} on line ${first.line}, a run is of one kind`);
    }
    return known;
  }
  const run = cells.code('run');
  const kind = cells.oneOf('kind', RUN_KINDS);
  if (run === undefined || kind === undefined) return NOT_GIVEN;
  folder.runs.push({ line: cells.line, run, kind });
  return folder.runNames.name(run);
}

function instantOf(cells: Cells<'links.csv'>, folder: Folder, ids: Map<string, number>): number {
  const text = cells.text('at');
  const known = ids.get(text);
  if (known !== undefined) return known;
  const at = cells.instant('at');
  if (at === undefined) return NOT_GIVEN;
  ids.set(text, folder.instants.length);
  return folder.instants.push(at) - 1;
}

/** What links and shipments have in common. */
interface UseCells {
  text(column: string): string;
  code(column: string): string | undefined;
  count(column: string): number | undefined;
  fault(column: string, code: string, detail: string): undefined;
}

/** The number of a lot by its code; one that lots.csv does not have is numbered too, and looked for in the plant later. */
function lotOf(cells: UseCells, column: 'from_lot' | 'to_lot' | 'lot', folder: Folder): number {
  const known = folder.lotNames.idOf(cells.text(column));
  if (known !== undefined) return known;
  const code = cells.code(column);
  return code === undefined ? NOT_GIVEN : folder.lotNames.name(code);
}

/** @see docs/rules/import.md I-10: both or neither */
function piecesOf(cells: UseCells, firstColumn: string, lastColumn: string): [first: number, last: number] {
  const first = cells.count(firstColumn);
  const last = cells.count(lastColumn);
  if ((cells.text(firstColumn) === '') !== (cells.text(lastColumn) === '')) {
    const missing = cells.text(firstColumn) === '' ? firstColumn : lastColumn;
    cells.fault(missing, 'half-a-span', `${firstColumn} and ${lastColumn} are given both or not at all`);
  } else if (first !== undefined && last !== undefined && first > last) {
    cells.fault(firstColumn, 'span-reversed', `${firstColumn} ${first} comes after ${lastColumn} ${last}`);
  }
  return [first ?? NOT_GIVEN, last ?? NOT_GIVEN];
}

/**
 * Rows of shipments.csv.
 * @see docs/rules/import.md I-11
 */
export function shipmentRows(folder: Folder, faults: Faults): TakeRow {
  const cells = new Cells('shipments.csv', faults);
  const { shipmentLines } = folder;
  return (row, line) => {
    cells.begin(row, line);
    const shipment = shipmentOf(cells, folder);
    const lot = lotOf(cells, 'lot', folder);
    const [first, last] = piecesOf(cells, 'first', 'last');
    const quantity = cells.quantity('quantity') ?? NOT_GIVEN;
    shipmentLines.line.push(line);
    shipmentLines.sound.push(cells.sound ? 1 : 0);
    shipmentLines.shipment.push(shipment);
    shipmentLines.lot.push(lot);
    shipmentLines.first.push(first);
    shipmentLines.last.push(last);
    shipmentLines.quantity.push(quantity);
  };
}

function shipmentOf(cells: Cells<'shipments.csv'>, folder: Folder): number {
  const known = folder.shipmentNames.idOf(cells.text('shipment'));
  const customer = cells.code('customer');
  const at = cells.instant('at');
  if (known !== undefined) {
    const first = folder.shipments[known]!;
    const where = `on line ${first.line}; a shipment goes to one customer at one time`;
    if (customer !== undefined && customer !== first.customer) {
      cells.fault('customer', 'shipment-differs', `shipment ${first.shipment} goes to ${first.customer} ${where}`);
    }
    if (at !== undefined && first.at !== '' && at !== first.at)
      cells.fault('at', 'shipment-differs', `shipment ${first.shipment} left at ${first.at} ${where}`);
    return known;
  }
  const shipment = cells.code('shipment');
  if (shipment === undefined || customer === undefined) return NOT_GIVEN;
  folder.shipments.push({ line: cells.line, shipment, customer, at: at ?? '' });
  return folder.shipmentNames.name(shipment);
}
