import { MICRO } from '../../../../shared/quantity.js';
import type { CatalogueBroughtOver, Item } from '../catalogue/catalogue.facts.js';
import { type LotBorn, onHand } from '../stock/effects.facts.js';
import type { Breath } from './breath.js';
import { groupRows, type Grouped } from './columns.js';
import { type Folder, type LotRow, NOT_GIVEN } from './folder.js';
import { BROUGHT_OVER, type LotsBroughtOver } from './import.facts.js';
import type { KnownLots } from './known-lots.js';
import type { Uses } from './uses.js';

/** Most rows an entry holds: an entry is read, hashed and projected as one, and a trace can be asked between any two. */
export const ROWS_AN_ENTRY = 5000;

type Records = CatalogueBroughtOver['records'];

/** Items, parties and the place for lots that came without one, as first revisions. @see docs/rules/import.md I-6 to I-8 */
export function* catalogueFacts(lots: KnownLots): Generator<CatalogueBroughtOver> {
  const { folder, plant } = lots;
  const numbered = new Set(folder.lots.filter((lot) => lot.pieces !== null).map((lot) => lot.item));
  const records: Records[number][] = [];
  for (const { item } of folder.items.values()) {
    records.push({ what: 'item', revision: 1, record: { ...item, tracking: trackingOf(item, numbered) } });
  }
  for (const { party } of folder.parties.values()) records.push({ what: 'party', revision: 1, record: party });
  if (!plant.place && folder.lots.length > 0) {
    const record = { code: BROUGHT_OVER, name: 'Brought over from older records', use: 'stock' as const };
    records.push({ what: 'location', revision: 1, record });
  }
  for (let start = 0; start < records.length; start += ROWS_AN_ENTRY) {
    yield { kind: 'CatalogueBroughtOver', v: 1, records: records.slice(start, start + ROWS_AN_ENTRY) };
  }
}

/** Lots of later runs are numbered where those brought over are, and where the class says so. */
function trackingOf(item: Omit<Item, 'tracking'>, numbered: ReadonlySet<string>): Item['tracking'] {
  const ofPieces = item.class === 'filled' || item.class === 'assembled';
  return numbered.has(item.code) || (ofPieces && item.unit === 'each') ? 'pieces' : 'bulk';
}

/** Lots, in the order of the file. @see docs/rules/import.md I-8 */
export function* lotFacts(importCode: string, lots: KnownLots, uses: Uses): Generator<LotsBroughtOver> {
  const { folder } = lots;
  const runOf = makingRuns(folder);
  let born: LotBorn[] = [];
  for (const [id, row] of folder.lots.entries()) {
    const run = runOf[id] as number;
    const source = row.origin === 'made' && run !== NOT_GIVEN ? folder.runs[run]!.run : importCode;
    born.push(bornOf(row, source, lots, () => takenOf(id, uses)));
    if (born.length < ROWS_AN_ENTRY) continue;
    yield { kind: 'LotsBroughtOver', v: 1, import: importCode, born };
    born = [];
  }
  if (born.length > 0) yield { kind: 'LotsBroughtOver', v: 1, import: importCode, born };
}

/** A bulk lot of unknown quantity had at least what was taken of it; no more than that is claimed, so nothing of it is on hand. */
function bornOf(row: LotRow, source: string, lots: KnownLots, taken: () => number): LotBorn {
  const item = lots.item(row.item)!;
  return {
    lot: row.lot,
    item: row.item,
    itemRevision: item.revision,
    unit: item.unit,
    pieces: row.pieces,
    quantityMicro: row.pieces === null ? (row.quantityMicro ?? taken()) : row.pieces * MICRO,
    origin: row.origin,
    bornAt: row.at,
    place: onHand(BROUGHT_OVER),
    status: row.status ?? 'quarantine',
    madeOn: row.origin === 'made' ? row.at.slice(0, 10) : undefined,
    expiresOn: row.expiresOn,
    supplier: row.supplier,
    supplierLot: row.supplierLot,
    source,
  };
}

function takenOf(lot: number, uses: Uses): number {
  let taken = 0;
  for (const use of uses.ofLot(lot)) taken += uses.quantityMicro(use);
  return taken;
}

/** For each lot the first run, other than rework, that yields it. */
function makingRuns(folder: Folder): Int32Array {
  const { links, runs } = folder;
  const made = new Int32Array(folder.lotNames.count).fill(NOT_GIVEN);
  for (let row = 0; row < links.count; row++) {
    const run = links.run.at(row);
    if (made[links.to.at(row)] === NOT_GIVEN && runs[run]!.kind !== 'rework') made[links.to.at(row)] = run;
  }
  return made;
}

/** Rows of links.csv by their run, in the order runs are first named. */
export const linksByRun = (folder: Folder, breath: Breath): Promise<Grouped> =>
  groupRows(folder.links.count, folder.runs.length, (row) => folder.links.run.at(row), breath);

/** Lines of shipments.csv by their shipment. */
export const linesByShipment = (folder: Folder, breath: Breath): Promise<Grouped> =>
  groupRows(folder.shipmentLines.count, folder.shipments.length, (row) => folder.shipmentLines.shipment.at(row), breath);
