import type { EntityManager } from 'typeorm';
import { parseSpans } from '../../../../shared/spans.js';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import { catalogueByCode, catalogueRevision } from '../catalogue/catalogue.query.js';
import { lotStates, type Wanted } from '../stock/lot-state.query.js';
import type { ChargingState } from './charging.decide.js';
import type { Changeover, Conversion, Deviation, Into, Residue, RunKind } from './run.facts.js';
import type { ChargeState, RunState } from './run-state.facts.js';
import { vesselContent } from './vessel.query.js';

/** A row of the table of runs. */
export interface RunRow {
  code: string;
  kind: RunKind;
  item: string;
  item_revision: number;
  recipe: string | null;
  recipe_revision: number | null;
  bom: string | null;
  bom_revision: number | null;
  vessel: string | null;
  line: string | null;
  people: string;
  started_at: string;
  started_seq: number;
  planned: unknown;
  clearance: string | null;
  label: string | null;
  note: string | null;
  finished_at: string | null;
  closed_seq: number | null;
  lot: string | null;
  result: string | null;
}

export async function runRow(tx: EntityManager, run: string): Promise<RunRow | undefined> {
  const [row] = await queryRows<RunRow>(tx, 'SELECT * FROM "run" WHERE "code" = ?', [run]);
  return row;
}

/** A run as a decision sees it, or undefined. */
export async function runState(tx: EntityManager, run: string): Promise<RunState | undefined> {
  const row = await runRow(tx, run);
  if (!row) return undefined;
  const charges = await chargesOf(tx, run);
  const bom = row.bom === null ? null : ((await catalogueRevision(tx, 'bom', row.bom, row.bom_revision!)) ?? null);
  return {
    run: row.code,
    kind: row.kind,
    item: (await catalogueRevision(tx, 'item', row.item, row.item_revision))!,
    recipe: row.recipe === null ? null : ((await catalogueRevision(tx, 'recipe', row.recipe, row.recipe_revision!)) ?? null),
    bom,
    vessel: row.vessel,
    line: row.line,
    startedAt: row.started_at,
    startedSeq: row.started_seq,
    plannedMicro: row.planned === null ? null : safeInteger(row.planned),
    closedSeq: row.closed_seq,
    finishedAt: row.finished_at,
    yields: await yieldedBy(tx, row.lot),
    charges,
    changeovers: await changeoversOf(tx, run),
    residues: await queryRows<Residue>(tx, 'SELECT "lot", "vessel" FROM "run_residue" WHERE "run" = ? ORDER BY "seq", "lot"', [run]),
    countedItems: await counted(tx, [...charges.map((charge) => charge.item), ...(bom?.lines ?? []).map((line) => line.item)]),
    replaced: (await queryRows(tx, 'SELECT "seq" FROM "part_replaced" WHERE "run" = ?', [run])).length,
    heel: row.vessel === null || row.closed_seq !== null ? [] : await vesselContent(tx, row.vessel),
  };
}

async function yieldedBy(tx: EntityManager, lot: string | null): Promise<RunState['yields']> {
  if (lot === null) return null;
  const [row] = await queryRows<{ pieces: number | null }>(tx, 'SELECT "pieces" FROM "lot" WHERE "code" = ?', [lot]);
  return { lot, pieces: row!.pieces };
}

async function counted(tx: EntityManager, items: readonly string[]): Promise<string[]> {
  const known = await catalogueByCode(tx, 'item', items);
  return [...known.values()]
    .filter((item) => item.unit === 'each')
    .map((item) => item.code)
    .toSorted();
}

interface ChargeRow {
  charge: number;
  step: number | null;
  lot: string;
  item: string;
  spans: string | null;
  quantity: unknown;
  mass: unknown;
  charged_at: string;
  by: string;
  heel: boolean | number;
  into: string;
  deviations: string;
  deviation_reason: string | null;
  urgent_releases: string;
  conversion: string | null;
  taken_from: string;
  returned_spans: string | null;
  returned: unknown;
  returned_mass: unknown;
  seq: number;
}

/** The charges of a run, in order. */
export async function chargesOf(tx: EntityManager, run: string): Promise<ChargeState[]> {
  const rows = await queryRows<ChargeRow>(tx, 'SELECT * FROM "run_charge" WHERE "run" = ? ORDER BY "charge"', [run]);
  return rows.map((row) => ({
    charge: row.charge,
    step: row.step,
    lot: row.lot,
    item: row.item,
    spans: storedSpans(row.spans),
    quantityMicro: safeInteger(row.quantity),
    massMicro: safeInteger(row.mass),
    chargedAt: row.charged_at,
    by: row.by,
    heel: Boolean(row.heel),
    into: JSON.parse(row.into) as Into[],
    deviations: JSON.parse(row.deviations) as Deviation[],
    deviationReason: row.deviation_reason,
    urgentReleases: JSON.parse(row.urgent_releases) as string[],
    conversion: row.conversion === null ? null : (JSON.parse(row.conversion) as Conversion),
    takenFrom: row.taken_from,
    returnedSpans: row.spans === null ? null : row.returned_spans ? parseSpans(row.returned_spans) : [],
    returnedMicro: safeInteger(row.returned),
    returnedMassMicro: safeInteger(row.returned_mass),
    seq: row.seq,
  }));
}

/** The changeovers of a run as they are known now. */
async function changeoversOf(tx: EntityManager, run: string): Promise<Changeover[]> {
  const rows = await queryRows<{ item: string; lot: string; from_piece: number; changed_at: string }>(
    tx,
    'SELECT "item", "lot", "from_piece", "changed_at" FROM "run_changeover" WHERE "run" = ? AND "until_seq" IS NULL ORDER BY "seq", "n"',
    [run],
  );
  return rows.map((row) => ({ item: row.item, lot: row.lot, fromPiece: row.from_piece, changedAt: row.changed_at }));
}

/** What charging rests on: the run, the wanted lots with what stands against them, and their items as they are now. */
export async function chargingState(
  tx: EntityManager,
  lineage: Lineage,
  run: RunState,
  wanted: readonly Wanted[],
  at: string,
): Promise<ChargingState> {
  const lots = await lotStates(tx, lineage, wanted);
  const items = await catalogueByCode(
    tx,
    'item',
    [...lots.values()].map((lot) => lot.item),
  );
  return { at, run, lots, items };
}

/** Locations among the codes. Vessels are not: material comes into a vessel by a run or by being pumped over, so that nothing blends unseen. */
export const knownLocations = async (tx: EntityManager, codes: readonly string[]): Promise<Set<string>> =>
  new Set((await catalogueByCode(tx, 'location', codes)).keys());

/** Earliest expiry date among lots, or null. */
export async function earliestExpiry(tx: EntityManager, lots: readonly string[]): Promise<string | null> {
  const rows = await selectIn<{ expires_on: string | null }>(tx, 'SELECT "expires_on" FROM "lot" WHERE "code" IN (:list)', [
    ...new Set(lots),
  ]);
  return rows.flatMap((row) => (row.expires_on === null ? [] : [row.expires_on])).toSorted()[0] ?? null;
}
