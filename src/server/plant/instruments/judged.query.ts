import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import type { JudgedLotView, JudgedResultView } from './judged.dto.js';
import type { DoubtfulTime } from './instrument.facts.js';

/** Sorts before and after every instant. */
const [EVER, NEVER_ENDS] = ['', '9999'];

const bounds = ({ from, to }: Pick<DoubtfulTime, 'from' | 'to'>): readonly [string, string] => [from ?? EVER, to ?? NEVER_ENDS];

interface ResultRow {
  inspection: string;
  tally: number;
  number: number;
  characteristic: string;
  lot: string;
  item: string;
  piece: number | null;
  at: string;
  person: string;
  value: unknown;
  within: boolean | number;
  measured: string;
  retest_of: number | null;
  since_seq: number;
  until_seq: number | null;
}

/** Every result taken with an instrument in a time, in the order they were measured; those of tallies taken back say so. */
export async function judgedResults(from: EntityManager, instrument: string, time: DoubtfulTime): Promise<JudgedResultView[]> {
  const rows = await queryRows<ResultRow>(
    from,
    `SELECT * FROM "test_result" WHERE "instrument" = ? AND "at" >= ? AND "at" <= ?
     ORDER BY "at", "since_seq", "tally", "number", "characteristic"`,
    [instrument, ...bounds(time)],
  );
  return rows.map((row) => ({
    inspection: row.inspection,
    tally: row.tally === 0 ? null : row.tally,
    number: row.number,
    characteristic: row.characteristic,
    lot: row.lot,
    item: row.item,
    piece: row.piece,
    at: row.at,
    person: row.person,
    seq: row.since_seq,
    value: formatQuantity(safeInteger(row.value)),
    unit: (JSON.parse(row.measured) as { unit: string }).unit,
    within: Boolean(row.within),
    retestOf: row.retest_of,
    takenBack: row.until_seq !== null,
  }));
}

/** The lots those results judged, by code: all that their inspections stood for, not only the pieces measured. */
export async function judgedLots(from: EntityManager, instrument: string, time: DoubtfulTime): Promise<JudgedLotView[]> {
  const rows = await queryRows<{ code: string; lot: string; item: string; spans: string | null; state: string; verdict: string | null }>(
    from,
    `SELECT "code", "lot", "item", "spans", "state", "verdict" FROM "inspection" WHERE "code" IN (${STANDING} )
     ORDER BY "lot", "opened_seq"`,
    [instrument, ...bounds(time)],
  );
  const lots = new Map<string, JudgedLotView>();
  for (const { code, lot, item, spans, state, verdict } of rows) {
    const one = lots.get(lot) ?? { lot, item, inspections: [] };
    lots.set(lot, one);
    one.inspections.push({ inspection: code, pieces: spans, state, verdict });
  }
  return [...lots.values()].toSorted((a, b) => (a.lot < b.lot ? -1 : 1));
}

/** Inspections with a result by an instrument in a time that was not taken back. */
const STANDING = 'SELECT "inspection" FROM "test_result" WHERE "instrument" = ? AND "at" >= ? AND "at" <= ? AND "until_seq" IS NULL';

/** How many results of an instrument in a time stand, and how many lots they judged. */
export async function countJudged(
  from: EntityManager,
  instrument: string,
  time: DoubtfulTime,
): Promise<{ readonly results: number; readonly lots: number }> {
  const [row] = await queryRows<{ results: unknown; lots: unknown }>(
    from,
    `SELECT count(*) AS "results", count(DISTINCT "lot") AS "lots" FROM "test_result"
     WHERE "instrument" = ? AND "at" >= ? AND "at" <= ? AND "until_seq" IS NULL`,
    [instrument, ...bounds(time)],
  );
  return { results: safeInteger(row?.results), lots: safeInteger(row?.lots) };
}

/** How many of them somebody who looked at entry `seen.seq` did not see: recorded later, or taken outside the time that was looked at. */
export async function countUnseen(
  from: EntityManager,
  instrument: string,
  time: DoubtfulTime,
  seen: { readonly seq: number; readonly time: DoubtfulTime },
): Promise<number> {
  const [row] = await queryRows<{ results: unknown }>(
    from,
    `SELECT count(*) AS "results" FROM "test_result"
     WHERE "instrument" = ? AND "at" >= ? AND "at" <= ? AND "until_seq" IS NULL AND ("since_seq" > ? OR "at" < ? OR "at" > ?)`,
    [instrument, ...bounds(time), seen.seq, ...bounds(seen.time)],
  );
  return safeInteger(row?.results);
}
