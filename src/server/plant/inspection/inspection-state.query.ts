import type { EntityManager } from 'typeorm';
import { startOfSwitching, type SwitchingState } from '../../../../shared/sampling/switching.js';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import { catalogueRevision } from '../catalogue/catalogue.query.js';
import type { InspectionPlan } from '../catalogue/inspection-plan.facts.js';
import type { SwitchingByClass } from './begin.decide.js';
import type { InspectedItem, Measured, Occasion, SamplePlan, Verdict } from './inspection.facts.js';
import type { InspectionState } from './inspection-state.facts.js';
import { planKey } from './verdict.decide.js';

export interface InspectionRow {
  code: string;
  lot: string;
  item: string;
  spans: string | null;
  lot_size: unknown;
  occasion: Occasion;
  source: string | null;
  supplier: string | null;
  plan_revision: number;
  resubmits: string | null;
  state: InspectionState['state'];
  opened_at: string;
  opened_seq: number;
  urgent_reason: string | null;
  sample: string | null;
  begun_seq: number | null;
  verdict: Verdict | null;
  inspected: unknown;
  nonconforming: unknown;
  curtailed: number | boolean;
  ended_seq: number | null;
  ended_at: string | null;
}

interface TallyRow {
  tally: number;
  sample: 1 | 2;
  conforming: number;
  items: string;
  actor: string;
}

interface ResultRow {
  number: number;
  measured: string;
  retest_of: number | null;
}

/** An inspection with all that was found so far; undefined if there is none of that number. */
export async function inspectionState(tx: EntityManager, inspection: string): Promise<InspectionState | undefined> {
  const [row] = await queryRows<InspectionRow>(tx, 'SELECT * FROM "inspection" WHERE "code" = ?', [inspection]);
  if (!row) return undefined;
  const tallies = await queryRows<TallyRow>(
    tx,
    `SELECT t."tally", t."sample", t."conforming", t."items", e."actor"
     FROM "inspection_tally" t JOIN "ledger_entry" e ON e."seq" = t."since_seq"
     WHERE t."inspection" = ? AND t."until_seq" IS NULL ORDER BY t."tally"`,
    [inspection],
  );
  const [ever] = await queryRows<{ n: unknown }>(tx, 'SELECT count(*) AS "n" FROM "inspection_tally" WHERE "inspection" = ?', [inspection]);
  const results = await queryRows<ResultRow>(
    tx,
    'SELECT "number", "measured", "retest_of" FROM "test_result" WHERE "inspection" = ? AND "tally" = 0 ORDER BY "number"',
    [inspection],
  );
  const followed = new Set(results.map((one) => one.retest_of));
  return {
    inspection,
    lot: row.lot,
    item: row.item,
    spans: storedSpans(row.spans),
    lotSize: row.lot_size === null ? null : safeInteger(row.lot_size),
    occasion: row.occasion,
    supplier: row.supplier,
    state: row.state,
    verdict: row.verdict,
    sample: row.sample === null ? null : (JSON.parse(row.sample) as SamplePlan),
    plan: (await catalogueRevision(tx, 'inspection-plan', row.item, row.plan_revision))!,
    tallies: tallies.map(({ tally, sample, conforming, items, actor }) => ({
      tally,
      sample,
      conforming,
      items: JSON.parse(items) as InspectedItem[],
      by: actor,
    })),
    talliesEver: safeInteger(ever!.n),
    results: results
      .filter((one) => !followed.has(one.number))
      .map((one) => ({ result: one.number, measured: JSON.parse(one.measured) as Measured })),
    resultsEver: results.length,
  };
}

/** Where the switching of each class stands for an item and supplier under its plan; a class without a history is at the start. */
export async function switchingOf(
  tx: EntityManager,
  { item, supplier, plan }: { readonly item: string; readonly supplier: string | null; readonly plan: InspectionPlan },
): Promise<SwitchingByClass> {
  const { sampling } = plan;
  if (sampling === undefined) return new Map();
  const rows = await queryRows<{ class: 'major' | 'minor'; plan: string; state: string }>(
    tx,
    'SELECT "class", "plan", "state" FROM "switching" WHERE "item" = ? AND "supplier" = ? AND "until_seq" IS NULL ORDER BY "class", "plan"',
    [item, supplier ?? ''],
  );
  return new Map(
    sampling.classes.map(({ class: of, aql }) => {
      const row = rows.find((one) => one.class === of && one.plan === planKey(sampling, aql));
      return [of, row === undefined ? startOfSwitching() : (JSON.parse(row.state) as SwitchingState)] as const;
    }),
  );
}
