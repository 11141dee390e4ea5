import type { EntityManager } from 'typeorm';
import { Reasons } from '../../../../shared/refusal.js';
import { canGoReduced, startOfSwitching, type SwitchingReason, type SwitchingState } from '../../../../shared/sampling/switching.js';
import { queryRows } from '../../platform/database/rows.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import type { InspectionPlan } from '../catalogue/inspection-plan.facts.js';
import type { InspectionDecided, SwitchingDecided } from './inspection.facts.js';
import { switchingOf } from './inspection-state.query.js';
import { type DecideSwitching, decisionWords, type SwitchingDecisionState } from './switching.decide.js';
import type {
  SwitchingHistoryQueryDto,
  SwitchingQueryDto,
  SwitchingReasonView,
  SwitchingStateView,
  SwitchingStepView,
} from './switching.dto.js';
import { planKey } from './verdict.decide.js';

/** What a decision on switching rests on. */
export async function switchingDecisionState(tx: EntityManager, command: DecideSwitching): Promise<SwitchingDecisionState> {
  const { item, supplier } = command;
  const plan = (await catalogueByCode(tx, 'inspection-plan', [item])).get(item);
  const party = supplier === undefined ? undefined : (await catalogueByCode(tx, 'party', [supplier])).get(supplier);
  return {
    itemKnown: (await catalogueByCode(tx, 'item', [item])).has(item),
    supplier: supplier === undefined ? 'known' : !party ? 'unknown' : party.role === 'customer' ? 'no-supplier' : 'known',
    plan,
    switching: plan ? await switchingOf(tx, { item, supplier: supplier ?? null, plan }) : new Map(),
  };
}

interface StateRow {
  item: string;
  supplier: string;
  class: 'major' | 'minor';
  plan: string;
  since_seq: number;
  state: string;
  because: string;
}

/** Narrows to an item and a supplier; the empty supplier is what is made here. */
function narrowed({ item, supplier }: SwitchingQueryDto): { where: string; values: string[] } {
  const wanted = [...(item === undefined ? [] : [['"item"', item]]), ...(supplier === undefined ? [] : [['"supplier"', supplier]])];
  return { where: wanted.map(([column]) => ` AND ${column} = ?`).join(''), values: wanted.map(([, value]) => value!) };
}

/**
 * Where switching stands, a line for each item, supplier, class and plan: those with a history, and the start of those that have been
 * inspected, or are asked about, without one.
 * @throws Refusal when there is no such item or supplier
 */
export async function switchingStates(from: EntityManager, query: SwitchingQueryDto): Promise<SwitchingStateView[]> {
  await checkAsked(from, query);
  const { where, values } = narrowed(query);
  const rows = await queryRows<StateRow>(
    from,
    `SELECT "item", "supplier", "class", "plan", "since_seq", "state", "because" FROM "switching" WHERE "until_seq" IS NULL${where}`,
    values,
  );
  const pairs = await pairsOf(from, query, rows);
  const plans = await catalogueByCode(
    from,
    'inspection-plan',
    pairs.map((pair) => pair.item),
  );
  const views = rows.map((row) => stateView(row, plans.get(row.item)));
  for (const { item, supplier } of pairs) {
    const plan = plans.get(item);
    for (const { class: of, plan: key } of histories(plan)) {
      if (rows.some((row) => row.item === item && row.supplier === supplier && row.class === of && row.plan === key)) continue;
      views.push(stateView({ item, supplier, class: of, plan: key, state: null }, plan));
    }
  }
  return views.toSorted((a, b) => (orderOf(a) < orderOf(b) ? -1 : 1));
}

const orderOf = (one: SwitchingStateView): string => [one.item, one.supplier ?? '', one.class, one.plan].join('\u0000');

const histories = (plan: InspectionPlan | undefined): { class: 'major' | 'minor'; plan: string }[] =>
  (plan?.sampling?.classes ?? []).map(({ class: of, aql }) => ({ class: of, plan: planKey(plan!.sampling!, aql) }));

interface Pair {
  readonly item: string;
  readonly supplier: string;
}

/** Every item and supplier that has a history or was inspected, and the pair that is asked about. */
async function pairsOf(from: EntityManager, query: SwitchingQueryDto, rows: readonly Pair[]): Promise<Pair[]> {
  const { where, values } = narrowed(query);
  const inspected = await queryRows<Pair>(
    from,
    `SELECT DISTINCT "item", "supplier" FROM (SELECT "item", coalesce("supplier", '') AS "supplier" FROM "inspection"
     WHERE "occasion" IN ('delivery', 'run')) AS "inspected" WHERE 1 = 1${where}`,
    values,
  );
  const { item, supplier } = query;
  const asked = item === undefined || supplier === undefined ? [] : [{ item, supplier }];
  const pairs = [...rows, ...inspected, ...asked];
  return [...new Map(pairs.map((pair) => [`${pair.item}\u0000${pair.supplier}`, pair])).values()];
}

const START: SwitchingReasonView = { rule: '9.1', words: 'inspection starts as normal; no lot has counted yet' };

function stateView(
  row: Omit<StateRow, 'state' | 'since_seq' | 'because'> & Partial<Pick<StateRow, 'since_seq' | 'because'>> & { state: string | null },
  plan: InspectionPlan | undefined,
): SwitchingStateView {
  const state = row.state === null ? startOfSwitching() : (JSON.parse(row.state) as SwitchingState);
  const { can, conditions } = canGoReduced(state);
  return {
    item: row.item,
    supplier: row.supplier === '' ? null : row.supplier,
    class: row.class,
    plan: row.plan,
    inForce: histories(plan).some((one) => one.class === row.class && one.plan === row.plan),
    ...state,
    recent: [...state.recent],
    because: row.because === undefined ? [START] : reasonsOf(JSON.parse(row.because) as SwitchingReason[]),
    since: row.since_seq ?? null,
    reduced: { can, conditions: conditions.map(({ rule, words, met }) => ({ rule, words, met })) },
  };
}

const reasonsOf = (reasons: readonly SwitchingReason[]): SwitchingReasonView[] => reasons.map(({ rule, words }) => ({ rule, words }));

type StepRow = StateRow & { inspection: string | null; at: string; actor: string; body: string };

/**
 * Every step of the histories of an item, first to last: what each lot or decision did, and why.
 * @throws Refusal when there is no such item or supplier
 */
export async function switchingHistory(from: EntityManager, query: SwitchingHistoryQueryDto): Promise<SwitchingStepView[]> {
  await checkAsked(from, query);
  const { where, values } = narrowed(query);
  const rows = await queryRows<StepRow>(
    from,
    `SELECT s.*, e."at", e."actor", e."body" FROM (SELECT * FROM "switching" WHERE 1 = 1${where}) AS s
     JOIN "ledger_entry" e ON e."seq" = s."since_seq" ORDER BY s."since_seq", s."class", s."plan"`,
    values,
  );
  return rows.filter((row) => query.class === undefined || row.class === query.class).map(stepView);
}

function stepView(row: StepRow): SwitchingStepView {
  const fact = JSON.parse(row.body) as InspectionDecided | SwitchingDecided;
  const switched = fact.switched.find((one) => one.class === row.class && one.plan === row.plan)!;
  const decided = fact.kind === 'SwitchingDecided';
  return {
    item: row.item,
    supplier: row.supplier === '' ? null : row.supplier,
    class: row.class,
    plan: row.plan,
    seq: row.since_seq,
    at: row.at,
    by: row.actor,
    before: switched.before.severity,
    after: switched.after.severity,
    score: switched.after.score,
    inspection: row.inspection,
    lot: decided ? null : fact.lot,
    verdict: decided ? null : (fact.classes.find((one) => one.class === row.class)?.verdict ?? null),
    decision: decided ? decisionWords(fact.decision) : null,
    reason: decided ? fact.reason : null,
    because: reasonsOf(switched.because),
  };
}

/** Tells a mistyped code from a history that is empty. */
async function checkAsked(from: EntityManager, { item, supplier }: SwitchingQueryDto): Promise<void> {
  const no = new Reasons();
  if (item !== undefined && !(await catalogueByCode(from, 'item', [item])).has(item)) {
    no.unknown('item-unknown', `no item ${item}`, { pointer: '/item' });
  }
  if (supplier !== undefined && !(await catalogueByCode(from, 'party', [supplier])).has(supplier)) {
    no.unknown('supplier-unknown', `no party ${supplier}`, { pointer: '/supplier' });
  }
  no.throwIfAny();
}
