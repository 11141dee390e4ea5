import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import type { CertifiedInspection, CertifiedResult } from '../../documents/certificate.types.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import { catalogueRevision } from '../catalogue/catalogue.query.js';
import type { MeasuredCharacteristic } from '../catalogue/inspection-plan.facts.js';
import type { InspectionDecided, Measured, SamplePlan } from '../inspection/inspection.facts.js';

interface Row {
  code: string;
  item: string;
  plan_revision: number;
  lot_size: unknown;
  sample: string | null;
  at: string;
  actor: string;
  body: string;
}

/** The inspections that accepted a lot up to an entry, with everything measured in them. */
export async function certifiedInspections(from: EntityManager, lot: string, seq: number): Promise<CertifiedInspection[]> {
  const rows = await queryRows<Row>(
    from,
    `SELECT i."code", i."item", i."plan_revision", i."lot_size", i."sample", e."at", e."actor", e."body"
     FROM "inspection" i JOIN "ledger_entry" e ON e."seq" = i."ended_seq"
     WHERE i."lot" = ? AND i."verdict" = 'accepted' AND i."ended_seq" <= ? ORDER BY i."ended_seq"`,
    [lot, seq],
  );
  const certified: CertifiedInspection[] = [];
  for (const row of rows) certified.push(await certifiedInspection(from, row));
  return certified;
}

async function certifiedInspection(from: EntityManager, row: Row): Promise<CertifiedInspection> {
  const decided = JSON.parse(row.body) as InspectionDecided;
  const sample = row.sample === null ? null : (JSON.parse(row.sample) as SamplePlan);
  return {
    inspection: row.code,
    planRevision: row.plan_revision,
    decidedAt: row.at,
    decidedBy: row.actor,
    sample:
      sample === null
        ? null
        : {
            edition: sample.edition,
            level: sample.level,
            type: sample.type,
            codeLetter: sample.codeLetter,
            inspected: decided.inspected,
            lotSize: safeInteger(row.lot_size),
          },
    classes: decided.classes.map((one) => {
      const plan = sample?.classes.find((of) => of.class === one.class);
      return { class: one.class, aql: plan?.aql ?? null, numbers: plan === undefined ? '0, 1' : numbersOf(plan.plan), found: one.found[1] };
    }),
    results: await certifiedResults(from, row),
  };
}

const numbersOf = (plan: SamplePlan['classes'][number]['plan']): string =>
  'n' in plan ? `${plan.ac}, ${plan.re}` : `${plan.ac1}, ${plan.re1}; both samples ${plan.ac2}, ${plan.re2}`;

interface ResultRow {
  tally: number;
  number: number;
  characteristic: string;
  at: string;
  value: unknown;
  measured: string;
  retest_of: number | null;
  reason: string | null;
}

async function certifiedResults(from: EntityManager, { code, item, plan_revision: revision }: Row): Promise<CertifiedResult[]> {
  const plan = (await catalogueRevision(from, 'inspection-plan', item, revision))!;
  const rows = await queryRows<ResultRow>(
    from,
    `SELECT "tally", "number", "characteristic", "at", "value", "measured", "retest_of", "reason" FROM "test_result"
     WHERE "inspection" = ? AND "until_seq" IS NULL ORDER BY "at", "tally", "number"`,
    [code],
  );
  return plan.characteristics
    .filter((one): one is MeasuredCharacteristic => one.kind === 'measured')
    .flatMap((one) => {
      const own = rows.filter((row) => row.characteristic === one.code);
      return own.length === 0 ? [] : [one.per === 'lot' ? lotResult(one, own) : itemsResult(one, own)];
    });
}

/** The result that stands, with those it follows. */
function lotResult(one: MeasuredCharacteristic, rows: readonly ResultRow[]): CertifiedResult {
  const last = rows.toSorted((a, b) => a.number - b.number).at(-1)!;
  const before = rows.filter((row) => row !== last).map((row) => ({ value: valueOf(row), reason: followedBecause(row, rows) }));
  return { ...shown(one, last), value: valueOf(last), items: null, before };
}

const followedBecause = (row: ResultRow, rows: readonly ResultRow[]): string =>
  rows.find((other) => other.retest_of === row.number)?.reason ?? 'tested again';

/** The span of what was measured on the items of the sample. */
function itemsResult(one: MeasuredCharacteristic, rows: readonly ResultRow[]): CertifiedResult {
  const sorted = rows.toSorted((a, b) => safeInteger(a.value) - safeInteger(b.value));
  const [least, most] = [sorted[0]!, sorted.at(-1)!];
  const value = valueOf(least) === valueOf(most) ? valueOf(least) : `${valueOf(least)} to ${valueOf(most)}`;
  const within = rows.every((row) => (JSON.parse(row.measured) as Measured).within);
  return { ...shown(one, rows.at(-1)!), value, within, items: rows.length, before: [] };
}

const valueOf = (row: ResultRow): string => formatQuantity(safeInteger(row.value));

function shown(one: MeasuredCharacteristic, row: ResultRow): Omit<CertifiedResult, 'value' | 'items' | 'before'> {
  const { unit, within, instrument, procedure } = JSON.parse(row.measured) as Measured;
  return { name: one.name, limits: limitsOf(one), unit, within, instrument, procedure, measuredAt: row.at };
}

function limitsOf({ lowerMicro, upperMicro, compute, unit }: MeasuredCharacteristic): string {
  const lower = lowerMicro === undefined ? null : formatQuantity(lowerMicro);
  const upper = upperMicro === undefined ? null : formatQuantity(upperMicro);
  if (lower !== null && upper !== null) return `${lower} to ${upper} ${unit}`;
  if (lower !== null) return `at least ${lower} ${unit}`;
  if (upper !== null) return `at most ${upper} ${unit}`;
  return compute.kind === 'net-content'
    ? `nominal ${formatQuantity(compute.nominalMicro)} ${compute.unit}, ${compute.rules.set} rules`
    : 'none';
}
