import type { EntityManager } from 'typeorm';
import { parseQuantity } from '../../../../shared/quantity.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows, type Value } from '../../platform/database/rows.js';
import type { Measured } from '../inspection/inspection.facts.js';
import type { ChartQueryDto } from './charts.dto.js';

/** A result of a measured characteristic, in the order it was taken. */
export interface ChartedResult {
  readonly inspection: string;
  readonly lot: string;
  readonly when: string;
  readonly unit: string;
  readonly valueMicro: number;
  /** Its single readings; empty where a reading is not one number. */
  readonly readingsMicro: readonly number[];
}

type Filter = Pick<ChartQueryDto, 'item' | 'supplier' | 'from' | 'to'>;

function filtered({ supplier, from, to }: Filter, time: string): { where: string; values: Value[] } {
  const parts: (readonly [string, Value])[] = [];
  if (supplier !== undefined) parts.push(['i."supplier" = ?', supplier]);
  if (from !== undefined) parts.push([`${time} >= ?`, from]);
  if (to !== undefined) parts.push([`${time} < ?`, to]);
  return { where: parts.map(([sql]) => ` AND ${sql}`).join(''), values: parts.map(([, value]) => value) };
}

/** Results that stand: not taken back and with no retest after them. */
export async function chartedResults(tx: EntityManager, query: Filter & { readonly characteristic: string }): Promise<ChartedResult[]> {
  const { where, values } = filtered(query, 'r."at"');
  const rows = await queryRows<{ inspection: string; lot: string; at: string; value: unknown; measured: string }>(
    tx,
    `SELECT r."inspection", r."lot", r."at", r."value", r."measured" FROM "test_result" r JOIN "inspection" i ON i."code" = r."inspection"
     WHERE r."item" = ? AND r."characteristic" = ? AND r."until_seq" IS NULL${where}
       AND NOT EXISTS (SELECT 1 FROM "test_result" n WHERE n."inspection" = r."inspection" AND n."tally" = 0 AND r."tally" = 0 AND n."retest_of" = r."number")
     ORDER BY r."at", r."since_seq", r."tally", r."number"`,
    [query.item, query.characteristic, ...values],
  );
  return rows.map((row) => {
    const { inputs, unit } = JSON.parse(row.measured) as Measured;
    const readings = inputs.flatMap((input) => (input['value'] === undefined ? [] : [parseQuantity(input['value'])]));
    return {
      inspection: row.inspection,
      lot: row.lot,
      when: row.at,
      unit,
      valueMicro: safeInteger(row.value),
      readingsMicro: readings.length === inputs.length ? readings : [],
    };
  });
}

/** A lot as the charts of attributes count it. */
export interface ChartedLot {
  readonly inspection: string;
  readonly lot: string;
  readonly when: string;
  readonly items: number;
  readonly nonconforming: number;
  readonly nonconformities: number;
}

/** Lots inspected to the end, in the order they were decided: a curtailed sample stops at what it finds. */
export async function chartedLots(tx: EntityManager, query: Filter): Promise<ChartedLot[]> {
  const { where, values } = filtered(query, 'i."ended_at"');
  const rows = await queryRows<{
    code: string;
    lot: string;
    ended_at: string;
    inspected: unknown;
    nonconforming: unknown;
    curtailed: unknown;
  }>(
    tx,
    `SELECT i."code", i."lot", i."ended_at", i."inspected", i."nonconforming", i."curtailed" FROM "inspection" i
     WHERE i."item" = ? AND i."state" = 'decided' AND i."inspected" > 0${where} ORDER BY i."ended_seq"`,
    [query.item, ...values],
  );
  const counts = await nonconformities(tx, query.item);
  return rows
    .filter((row) => !row.curtailed)
    .map((row) => ({
      inspection: row.code,
      lot: row.lot,
      when: row.ended_at,
      items: safeInteger(row.inspected),
      nonconforming: safeInteger(row.nonconforming),
      nonconformities: counts.get(row.code) ?? 0,
    }));
}

async function nonconformities(tx: EntityManager, item: string): Promise<Map<string, number>> {
  const rows = await queryRows<{ inspection: string; items: string }>(
    tx,
    `SELECT t."inspection", t."items" FROM "inspection_tally" t JOIN "inspection" i ON i."code" = t."inspection"
     WHERE i."item" = ? AND t."until_seq" IS NULL ORDER BY t."inspection", t."tally"`,
    [item],
  );
  const counts = new Map<string, number>();
  for (const { inspection, items } of rows) {
    const found = (JSON.parse(items) as { found: { count: number }[] }[]).flatMap((one) => one.found);
    counts.set(inspection, (counts.get(inspection) ?? 0) + found.reduce((sum, one) => sum + one.count, 0));
  }
  return counts;
}
