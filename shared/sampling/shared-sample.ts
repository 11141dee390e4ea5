import type { Aql } from './aql.js';
import { codeLetter, type Level } from './code-letter.js';
import { EDITION, isDouble, largestSample, type Plan, planAtLetter, type PlanFound, whyInspectAll } from './plan.js';
import { stepInWords } from './step-in-words.js';
import { type Letter, type PlanType, ROWS, type Severity } from './tables.js';

/** A class of nonconformity that is inspected on the same sample as others: each has its limit, and is switched by itself. */
export interface SampledClass {
  readonly aql: Aql;
  readonly severity: Severity;
}

/** The plan a class is judged by. */
export interface ClassInSample extends SampledClass {
  readonly plan: Plan;
  /** How it came to be this plan, in sentences; empty where it stands at the code letter. */
  readonly because: readonly string[];
  readonly unverified: string | null;
}

/** One sample for all classes. */
interface SharedSample {
  readonly edition: typeof EDITION;
  readonly codeLetter: Letter;
  /** Items to take first, and then where a class asks for a second sample. */
  readonly sizes: readonly [first: number, second: number | null];
  readonly inspectAll: boolean;
  readonly inspectAllBecause: string | null;
  /** In the order asked for. */
  readonly classes: readonly ClassInSample[];
}

interface SampleQuestion {
  readonly lotSize: number;
  readonly level: Level;
  readonly type: PlanType;
  readonly classes: readonly SampledClass[];
}

const firstSample = (plan: Plan): number => (isDouble(plan) ? plan.n1 : plan.n);

/** The plan of a class that begins with a sample of this size, from the row nearest to its own; undefined where its column has none. */
function planOfSize(size: number, own: PlanFound, of: SampledClass, { lotSize, type }: SampleQuestion): PlanFound | undefined {
  const from = ROWS.indexOf(own.plan.letter);
  return ROWS.toSorted((a, b) => Math.abs(ROWS.indexOf(a) - from) - Math.abs(ROWS.indexOf(b) - from))
    .map((letter) => planAtLetter({ ...of, letter, type, lotSize }))
    .find((found) => found.plan.letter === found.codeLetter && firstSample(found.plan) === size);
}

function inSharedSample(first: number, own: PlanFound, of: SampledClass, question: SampleQuestion): ClassInSample {
  const { aql, severity } = of;
  const because = own.arrows.map((step) => stepInWords(step, question.type, severity));
  const size = firstSample(own.plan);
  if (size === first) return { aql, severity, plan: own.plan, because, unverified: own.unverified };
  const served = planOfSize(first, own, of, question);
  if (served !== undefined) {
    const why = `another class needs a sample of ${first} where this one needs ${size}: the larger serves both, with letter ${served.plan.letter}`;
    return { aql, severity, plan: served.plan, because: [...because, why], unverified: served.unverified };
  }
  const why =
    `another class needs a sample of ${first} where this one needs ${size}, and AQL ${aql} has no plan for the larger: ` +
    `the numbers of letter ${own.plan.letter} are kept, which is stricter`;
  return { aql, severity, plan: own.plan, because: [...because, why], unverified: own.unverified };
}

/**
 * The plans of several classes on one sample: the largest sample that any of them needs serves all. The others are looked up where their own
 * table has a plan for a sample of that size; where it has none, a class keeps its acceptance numbers, so that it is judged more strictly and
 * never more laxly than its plan.
 * @throws RangeError when no class is given, or the lot size is no whole number of one or more
 */
export function sharedSample(question: SampleQuestion): SharedSample {
  const { lotSize, level, type, classes } = question;
  if (classes.length === 0) throw new RangeError('a sample is taken for at least one class');
  const letter = codeLetter(lotSize, level);
  const own = classes.map((of) => planAtLetter({ ...of, letter, type, lotSize }));
  const first = Math.max(...own.map(({ plan }) => firstSample(plan)));
  const judged = classes.map((of, at) => inSharedSample(first, own[at]!, of, question));
  const seconds = judged.flatMap(({ plan }) => (isDouble(plan) ? [plan.n2] : []));
  const all = judged.map(({ plan }) => plan).reduce((most, plan) => (largestSample(plan) > largestSample(most) ? plan : most));
  const inspectAllBecause = whyInspectAll(all, lotSize);
  return {
    edition: EDITION,
    codeLetter: letter,
    sizes: [first, seconds.length === 0 ? null : Math.max(...seconds)],
    inspectAll: inspectAllBecause !== null,
    inspectAllBecause,
    classes: judged,
  };
}
