import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { formatSpans } from '../../../../shared/spans.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { stepStates } from './recipe.decide.js';
import { replacementsOf } from './replacing.query.js';
import type { Clearance, RunLabel } from './run.facts.js';
import { chargedNet, type ChargeState, netOf, type RunState } from './run-state.facts.js';
import { runRow, type RunRow, runState } from './run-state.query.js';
import { resultView, yieldView } from './run-yield.query.js';
import type {
  InvestigationView,
  RunChargeView,
  RunComponentView,
  RunCorrectionView,
  RunHeadView,
  RunStepView,
  RunView,
} from './run-view.dto.js';

interface Naming {
  readonly name: string;
  readonly unit: string;
}
type Names = ReadonlyMap<string, Naming>;

const named = (names: Names, item: string): Naming => names.get(item) ?? { name: item, unit: '' };

/** One run with everything that was recorded of it, or undefined. */
export async function runView(tx: EntityManager, run: string): Promise<RunView | undefined> {
  const row = await runRow(tx, run);
  const state = await runState(tx, run);
  if (!row || !state) return undefined;
  const items = [row.item, ...state.charges.map((charge) => charge.item), ...state.heel.map((part) => part.item)];
  const planned = [...(state.recipe?.steps ?? []), ...(state.bom?.lines ?? [])].map((one) => one.item);
  const names: Names = await catalogueByCode(tx, 'item', [...items, ...planned]);
  const investigations = await investigationsOf(tx, run);
  const clearance = row.clearance === null ? null : (JSON.parse(row.clearance) as Clearance);
  const label = row.label === null ? null : (JSON.parse(row.label) as RunLabel);
  return {
    ...headView(
      row,
      state.item,
      investigations.some((one) => one.explanation === null),
    ),
    itemRevision: row.item_revision,
    recipeRevision: row.recipe_revision,
    bomRevision: row.bom_revision,
    startedBy: await actorOf(tx, row.started_seq),
    closedBy: row.closed_seq === null ? null : await actorOf(tx, row.closed_seq),
    clearance: clearance && { checkedBy: clearance.checkedBy, note: clearance.note ?? null },
    label: label && { text: label.text, code: label.code ?? null },
    note: row.note,
    heel: state.heel.map((part) => ({
      lot: part.lot,
      item: part.item,
      quantity: formatQuantity(part.quantityMicro),
      unit: named(names, part.item).unit,
    })),
    residues: state.residues.map(({ lot, vessel }) => ({ lot, vessel })),
    steps: stepsView(state, names),
    components: componentsView(state, names),
    charges: await chargesView(tx, state.charges, names),
    changeovers: state.changeovers.map((changeover) => ({ ...changeover })),
    replacements: await replacementsOf(tx, { run }),
    yields: await yieldView(tx, row),
    result: resultView(row),
    investigations,
    corrections: await correctionsOf(tx, run),
  };
}

const headView = (row: RunRow, item: Naming, toExplain: boolean): RunHeadView => ({
  run: row.code,
  kind: row.kind,
  state: row.closed_seq === null ? 'open' : 'closed',
  item: row.item,
  name: item.name,
  unit: item.unit,
  recipe: row.recipe,
  bom: row.bom,
  vessel: row.vessel,
  line: row.line,
  people: JSON.parse(row.people) as string[],
  startedAt: row.started_at,
  finishedAt: row.finished_at,
  planned: row.planned === null ? null : formatQuantity(safeInteger(row.planned)),
  lot: row.lot,
  toExplain,
  startedSeq: row.started_seq,
  closedSeq: row.closed_seq,
});

async function actorOf(tx: EntityManager, seq: number): Promise<string> {
  const [row] = await queryRows<{ actor: string }>(tx, 'SELECT "actor" FROM "ledger_entry" WHERE "seq" = ?', [seq]);
  return row?.actor ?? '';
}

function stepsView(state: RunState, names: Names): RunStepView[] {
  if (state.recipe === null) return [];
  return stepStates(state.recipe, state.plannedMicro, state.charges).map((step) => ({
    step: step.step,
    item: step.item,
    ...named(names, step.item),
    target: formatQuantity(step.targetMicro),
    low: formatQuantity(step.lowMicro),
    high: formatQuantity(step.highMicro),
    mixMinutes: step.mixMinutes,
    charged: formatQuantity(step.chargedMicro),
    left: formatQuantity(Math.max(0, step.targetMicro - step.chargedMicro)),
  }));
}

const componentsView = (state: RunState, names: Names): RunComponentView[] =>
  (state.bom?.lines ?? []).map((line) => ({
    item: line.item,
    ...named(names, line.item),
    perPiece: formatQuantity(line.perPieceMicro),
    trackedBy: line.trackedBy,
    charged: formatQuantity(
      chargedNet(state.charges).reduce((sum, { charge, net }) => (charge.item === line.item ? sum + net.quantityMicro : sum), 0),
    ),
  }));

async function chargesView(tx: EntityManager, charges: readonly ChargeState[], names: Names): Promise<RunChargeView[]> {
  const rows = await selectIn<{ code: string; supplier: string | null; supplier_lot: string | null }>(
    tx,
    'SELECT "code", "supplier", "supplier_lot" FROM "lot" WHERE "code" IN (:list)',
    [...new Set(charges.map((charge) => charge.lot))],
  );
  const lots = new Map(rows.map((row) => [row.code, row]));
  return charges.map((charge) => {
    const net = netOf(charge);
    return {
      charge: charge.charge,
      step: charge.step,
      lot: charge.lot,
      item: charge.item,
      ...named(names, charge.item),
      supplier: lots.get(charge.lot)?.supplier ?? null,
      supplierLot: lots.get(charge.lot)?.supplier_lot ?? null,
      pieces: net.spans === null ? null : formatSpans(net.spans),
      quantity: formatQuantity(net.quantityMicro),
      returned: formatQuantity(charge.returnedMicro),
      mass: formatQuantity(net.massMicro),
      chargedAt: charge.chargedAt,
      by: charge.by,
      heel: charge.heel,
      into: charge.into.map(({ fromSpan, toSpan, map }) => ({
        fromPieces: fromSpan === null ? null : formatSpans([fromSpan]),
        intoPieces: formatSpans([toSpan]),
        map,
      })),
      deviations: charge.deviations.map(({ what, detail }) => ({ what, detail })),
      deviationReason: charge.deviationReason,
      urgentReleases: [...charge.urgentReleases],
      conversion: charge.conversion && {
        given: formatQuantity(charge.conversion.givenMicro),
        givenUnit: charge.conversion.givenUnit,
        density: formatQuantity(charge.conversion.densityMicro),
      },
      seq: charge.seq,
    };
  });
}

async function investigationsOf(tx: EntityManager, run: string): Promise<InvestigationView[]> {
  const rows = await queryRows<{
    what: string;
    detail: string;
    explanation: string | null;
    explained_by: string | null;
    explained_seq: number | null;
  }>(tx, 'SELECT * FROM "run_investigation" WHERE "run" = ? ORDER BY "what"', [run]);
  return rows.map((row) => ({
    what: row.what,
    detail: row.detail,
    explanation: row.explanation,
    explainedBy: row.explained_by,
    explainedSeq: row.explained_seq,
  }));
}

async function correctionsOf(tx: EntityManager, run: string): Promise<RunCorrectionView[]> {
  const rows = await queryRows<Omit<RunCorrectionView, 'voided'> & { voided: string }>(
    tx,
    'SELECT "seq", "corrects", "reason", "at", "by", "voided", "linked" FROM "run_correction" WHERE "run" = ? ORDER BY "seq"',
    [run],
  );
  return rows.map((row) => ({ ...row, voided: (JSON.parse(row.voided) as unknown[]).length }));
}

/** What a list of runs is narrowed by. */
export interface RunFilter {
  readonly state?: 'open' | 'closed' | undefined;
  readonly kind?: string | undefined;
  readonly vessel?: string | undefined;
  readonly line?: string | undefined;
  readonly toExplain?: boolean | undefined;
}

/** Runs, open ones first, then the latest; at most `limit`. */
export async function runList(tx: EntityManager, filter: RunFilter, limit: number): Promise<RunHeadView[]> {
  const where: string[] = [];
  const values: string[] = [];
  for (const column of ['kind', 'vessel', 'line'] as const) {
    if (filter[column] === undefined) continue;
    where.push(`r."${column}" = ?`);
    values.push(filter[column]);
  }
  if (filter.state) where.push(filter.state === 'open' ? 'r."closed_seq" IS NULL' : 'r."closed_seq" IS NOT NULL');
  const open = '(SELECT count(*) FROM "run_investigation" i WHERE i."run" = r."code" AND i."explained_seq" IS NULL)';
  if (filter.toExplain) where.push(`${open} > 0`);
  const rows = await queryRows<RunRow & { to_explain: unknown }>(
    tx,
    `SELECT r.*, ${open} AS "to_explain" FROM "run" r ${where.length > 0 ? `WHERE ${where.join(' AND ')}` : ''}
     ORDER BY CASE WHEN r."closed_seq" IS NULL THEN 0 ELSE 1 END, r."started_seq" DESC LIMIT ${limit}`,
    values,
  );
  const names: Names = await catalogueByCode(
    tx,
    'item',
    rows.map((row) => row.item),
  );
  return rows.map((row) => headView(row, named(names, row.item), Number(row.to_explain) > 0));
}
