import type { EntityManager } from 'typeorm';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { Item, Location, Party, Revised } from '../catalogue/catalogue.facts.js';
import { catalogueByCode, catalogueOf } from '../catalogue/catalogue.query.js';
import type { Unit } from '../stock/effects.facts.js';
import type { Folder } from './folder.js';
import type { ImportView } from './import.dto.js';
import { BROUGHT_OVER } from './import.facts.js';

/** A lot of the plant that the files name. */
export interface PlantLot {
  readonly id: number;
  readonly lot: string;
  readonly item: string;
  readonly unit: Unit;
  readonly pieces: number | null;
  readonly bornAt: string;
}

/** What of the plant the checks of a folder rest on. */
export interface PlantState {
  /** Now. */
  readonly at: string;
  readonly items: ReadonlyMap<string, Revised<Item>>;
  readonly parties: ReadonlyMap<string, Revised<Party>>;
  /** The location that lots brought over stand at, once it is catalogued. */
  readonly place: Revised<Location> | undefined;
  /** Lots that the files name and do not have themselves. */
  readonly lots: ReadonlyMap<string, PlantLot>;
  /** Codes of the files that the plant has already. */
  readonly lotsTaken: ReadonlySet<string>;
  readonly runsTaken: ReadonlySet<string>;
  readonly shipmentsTaken: ReadonlySet<string>;
}

const byCode = <T extends { readonly code: string }>(records: readonly T[]): Map<string, T> =>
  new Map(records.map((record) => [record.code, record]));

async function codesIn(tx: EntityManager, table: string, column: string, codes: readonly string[]): Promise<Set<string>> {
  const rows = await selectIn<{ code: string }>(
    tx,
    `SELECT DISTINCT "${column}" AS "code" FROM "${table}" WHERE "${column}" IN (:list)`,
    codes,
  );
  return new Set(rows.map((row) => row.code));
}

export async function plantState(tx: EntityManager, folder: Folder, at: string): Promise<PlantState> {
  const outside = await selectIn<{ id: number; code: string; item: string; unit: Unit; pieces: number | null; born_at: string }>(
    tx,
    'SELECT "id", "code", "item", "unit", "pieces", "born_at" FROM "lot" WHERE "code" IN (:list)',
    folder.outsideLots,
  );
  const runs = folder.runs.map((run) => run.run);
  const runsLinked = await codesIn(tx, 'link', 'run', runs);
  const runsMade = await codesIn(tx, 'lot', 'source', runs);
  const runsBegun = await codesIn(tx, 'run', 'code', runs);
  return {
    at,
    items: byCode(await catalogueOf(tx, 'item')),
    parties: byCode(await catalogueOf(tx, 'party')),
    place: (await catalogueByCode(tx, 'location', [BROUGHT_OVER])).get(BROUGHT_OVER),
    lots: new Map(outside.map(({ code, born_at: bornAt, ...row }) => [code, { ...row, lot: code, bornAt }])),
    lotsTaken: await codesIn(
      tx,
      'lot',
      'code',
      folder.lots.map((lot) => lot.lot),
    ),
    runsTaken: new Set([...runsLinked, ...runsMade, ...runsBegun]),
    shipmentsTaken: await codesIn(
      tx,
      'shipment',
      'code',
      folder.shipments.map((shipment) => shipment.shipment),
    ),
  };
}

/** An import that has brought one of these very files over before. */
interface EarlierFile {
  readonly import: string;
  readonly at: string;
  readonly by: string;
  readonly file: string;
}

/** @see docs/rules/import.md I-14 */
export async function earlierFiles(tx: EntityManager, folder: Folder): Promise<EarlierFile[]> {
  const hashes = folder.files.filter((read) => read.rows > 0 && read.sha256 !== '').map((read) => read.sha256);
  const rows = await selectIn<{ import: string; at: string; by: string; file: string }>(
    tx,
    `SELECT f."import", i."at", i."by", f."file" FROM "import_file" f JOIN "import" i ON i."code" = f."import" WHERE f."sha256" IN (:list)`,
    hashes,
  );
  return rows.toSorted((a, b) => (a.import + a.file < b.import + b.file ? -1 : 1));
}

/**
 * Which of the lots `among` can be reached from lot `from` by recorded links other than rework and repacking.
 * Lots, not pieces: that is what makes a lot its own ancestor. The lot itself is left out.
 */
export async function reachedBy(tx: EntityManager, from: number, among: ReadonlySet<number>): Promise<number[]> {
  const rows = await queryRows<{ lot: number }>(
    tx,
    `WITH RECURSIVE "reach"("lot") AS (
       SELECT CAST(? AS integer)
       UNION
       SELECT l."to_lot" FROM "reach" r JOIN "link" l ON l."from_lot" = r."lot"
       WHERE l."void_seq" IS NULL AND l."kind" NOT IN ('rework', 'repacking')
     ) SELECT "lot" FROM "reach"`,
    [from],
  );
  return rows.map((row) => row.lot).filter((lot) => lot !== from && among.has(lot));
}

/** Every import with its files, newest first. */
export async function importViews(from: EntityManager): Promise<ImportView[]> {
  const imports = await queryRows<Omit<ImportView, 'counts' | 'files'> & { counts: string }>(
    from,
    'SELECT "code" AS "import", "at", "by", "seq", "counts" FROM "import" ORDER BY "seq" DESC',
  );
  const files = await queryRows<ImportView['files'][number] & { import: string }>(
    from,
    'SELECT "import", "file", "rows", "sha256" FROM "import_file" ORDER BY "import", "file"',
  );
  return imports.map(({ counts, ...row }) => ({
    ...row,
    counts: JSON.parse(counts) as ImportView['counts'],
    files: files.filter((file) => file.import === row.import).map(({ file, rows, sha256 }) => ({ file, rows, sha256 })),
  }));
}
