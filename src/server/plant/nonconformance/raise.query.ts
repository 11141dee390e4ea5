import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { formatSpans } from '../../../../shared/spans.js';
import { queryRows } from '../../platform/database/rows.js';
import { inspectionState } from '../inspection/inspection-state.query.js';
import { judge, worstOf } from '../inspection/judge.decide.js';
import type { Source } from './nonconformance.facts.js';
import type { AskedPart, Raise } from './raise.decide.js';

const TABLES: Readonly<Partial<Record<Source, string>>> = {
  delivery: 'delivery',
  inspection: 'inspection',
  test: 'inspection',
  run: 'run',
  return: 'goods_return',
};

/** Whether the record has what a source names; a complaint, an audit or a unit is named as it stands on paper. */
export async function sourceKnown(tx: EntityManager, kind: Source, code: string | null): Promise<boolean> {
  if (code === null) return true;
  if (kind === 'instrument')
    return exists(tx, `SELECT 1 AS "one" FROM "catalogue_record" WHERE "what" = 'instrument' AND "code" = ?`, code);
  const table = TABLES[kind];
  return table === undefined || exists(tx, `SELECT 1 AS "one" FROM "${table}" WHERE "code" = ?`, code);
}

const exists = async (tx: EntityManager, sql: string, code: string): Promise<boolean> => (await queryRows(tx, sql, [code])).length > 0;

export const personKnown = (tx: EntityManager, person: string): Promise<boolean> =>
  exists(tx, 'SELECT 1 AS "one" FROM "person" WHERE "code" = ?', person);

/** What a report raised from an inspection takes over; undefined if there is none of that number. */
export async function foundAtInspection(tx: EntityManager, inspection: string): Promise<Omit<Raise, 'foundBy' | 'foundAt'> | undefined> {
  const state = await inspectionState(tx, inspection);
  if (!state) return undefined;
  const judged = judge({ ...state, characteristics: state.plan.characteristics });
  const items = state.tallies.flatMap((tally) => tally.items);
  const counts = new Map<string, number>();
  for (const { defect, count } of items.flatMap((item) => item.found)) {
    if (defect !== null) counts.set(defect, (counts.get(defect) ?? 0) + count);
  }
  const classes = items.map(worstOf);
  const failing = state.results.filter((one) => !one.measured.within).map((one) => one.measured);
  const measured = [...failing, ...items.flatMap((item) => item.measured.filter((one) => !one.within))];
  const because = judged.classes.filter((one) => one.standing === 'not-accepted').map((one) => one.because);
  const part: AskedPart = { lot: state.lot, pieces: state.spans ?? undefined };
  return {
    source: { kind: 'inspection', code: inspection },
    requirement: `Inspection plan of ${state.item}, revision ${state.plan.revision}: ${state.plan.name}`,
    found:
      [...because, ...judged.failed].join('; ') ||
      `inspection ${inspection} of ${state.lot}${state.spans === null ? '' : ` pieces ${formatSpans(state.spans)}`}`,
    defects: [...counts].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([defect, count]) => ({ defect, count })),
    measured: measured.map((one) => `${one.characteristic} ${formatQuantity(one.valueMicro)} ${one.unit}: ${one.fault ?? 'out of limits'}`),
    files: [...new Set(items.flatMap((item) => item.files))],
    severity: classes.includes('critical') ? 'critical' : classes.includes('major') || failing.length > 0 ? 'major' : 'minor',
    parts: [part],
  };
}
