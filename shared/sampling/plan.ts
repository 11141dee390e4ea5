import type { Aql } from './aql.js';
import { codeLetter, isLotSize, SMALLEST_LOT } from './code-letter.js';
import { checkedQuestion, type PlanQuestion } from './question.js';
import {
  type Arrow,
  cell,
  type DoublePlan,
  type Letter,
  letterAtEndOfArrow,
  type PlanType,
  type Severity,
  type SinglePlan,
} from './tables.js';
import { whyUnverified } from './unverified.js';

/** The edition the tables are of, named wherever a plan is shown. ISO withdrew it on 2026-01-22 in favour of ISO 2859-1:2026. */
export const EDITION = 'ISO 2859-1:1999';

export type { DoublePlan, SinglePlan } from './tables.js';

export type Plan = SinglePlan | DoublePlan;

/** A step away from the place looked up: along an arrow to the first plan it leads to, or from a table of double plans to the single plan. */
export interface PlanStep {
  readonly from: Letter;
  readonly direction: Arrow | 'single';
  readonly to: Letter;
}

/** A plan, and how it was come to. */
export interface PlanFound {
  readonly edition: typeof EDITION;
  /** The letter looked up, before arrows; the letter the sample goes with is that of the plan. */
  readonly codeLetter: Letter;
  readonly plan: Plan;
  /** The sample reaches the lot: every item is inspected, and the acceptance numbers of the plan decide. */
  readonly inspectAll: boolean;
  /** Why every item is inspected, in a sentence; null when a sample is. */
  readonly inspectAllBecause: string | null;
  readonly arrows: readonly PlanStep[];
  /** Why what is shown is not verified by a source that could be read, in a sentence; null when it is. */
  readonly unverified: string | null;
}

/** A place in the tables, and the lot it is looked up for. */
interface PlaceInTables {
  readonly letter: Letter;
  readonly aql: Aql;
  readonly severity: Severity;
  readonly type: PlanType;
  readonly lotSize: number;
}

/** Whether a plan takes two samples. */
export const isDouble = (plan: Plan): plan is DoublePlan => 'n1' in plan;

/** How many items a plan can come to inspect: both samples of a double plan. */
export const largestSample = (plan: Plan): number => (isDouble(plan) ? plan.n1 + plan.n2 : plan.n);

/** Why the sample of a plan means that every item of a lot is inspected, in a sentence; null when it does not. */
export function whyInspectAll(plan: Plan, lotSize: number): string | null {
  if (lotSize < SMALLEST_LOT) return 'Table 1 begins at lots of 2: a lot of one item is inspected whole';
  const sample = largestSample(plan);
  if (sample < lotSize) return null;
  const taken = isDouble(plan) ? `both samples come to ${sample}` : `the sample is ${sample}`;
  return `${taken} and the lot has ${lotSize}: a sample that reaches the lot means every item is inspected`;
}

/**
 * The plan at a letter of the tables, arrows followed. Several classes of nonconformity on one sample: `sharedSample`.
 * @throws RangeError when the lot size is no whole number of one or more
 */
export function planAtLetter({ letter, aql, severity, type, lotSize }: PlaceInTables): PlanFound {
  if (!isLotSize(lotSize)) throw new RangeError(`${lotSize} is no lot size`);
  const to = letterAtEndOfArrow(severity, letter, aql);
  const said = cell(type, severity, letter, aql);
  // Nothing is printed in row S but its one plan: as at an arrow, the first plan above is used.
  const arrows: PlanStep[] = to === letter ? [] : [{ from: letter, direction: said === 'down' ? 'down' : 'up', to }];
  const there = cell(type, severity, to, aql);
  if (there === '*') arrows.push({ from: to, direction: 'single', to });
  const plan = (there === '*' ? cell('single', severity, to, aql) : there) as Plan;
  const inspectAllBecause = whyInspectAll(plan, lotSize);
  return {
    edition: EDITION,
    codeLetter: letter,
    plan,
    inspectAll: inspectAllBecause !== null,
    inspectAllBecause,
    arrows,
    unverified: whyUnverified(type, severity, letter, aql) ?? whyUnverified(type, severity, to, aql),
  };
}

/**
 * What to take and when to accept, for a lot. A lot of one, of which Table 1 says nothing, is inspected whole and decided by the plan of
 * the smallest lots.
 * @throws Refusal with everything that is wrong with the question (see `checkedQuestion`)
 */
export function samplingPlan(question: PlanQuestion): PlanFound {
  const { lotSize, level, aql, severity, type } = checkedQuestion(question);
  return planAtLetter({ letter: codeLetter(lotSize, level), aql, severity, type, lotSize });
}
