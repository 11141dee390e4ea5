import { lastAtLeast, lastWholeAtLeast, type Peak, peakOf } from '../statistics/search.js';
import { binomialLaw, type Course, courseOf, type Law, lotLaw, type PlanNumbers, poissonLaw } from './oc-law.js';

/**
 * What is supposed of the lots: `binomial` for nonconforming items from a steady process, `poisson` for nonconformities, of which an item
 * may have several, `hypergeometric` for nonconforming items in one lot of known size.
 */
export type OcDistribution = 'binomial' | 'poisson' | 'hypergeometric';

interface OcOptions {
  readonly distribution: OcDistribution;
  /** Items in the lot. Needed for `hypergeometric`; for the others it only refines the average outgoing quality. */
  readonly lotSize?: number;
  /** Acceptance quality limit, in the unit of quality; asks for the producer's risk there. */
  readonly aql?: number;
  /** How many points the curve is drawn with, 2 to 501; 101 when not said. */
  readonly points?: number;
}

/** One point of the curves. */
export interface OcPoint {
  /** Quality of what comes in, in the unit the answer names. */
  readonly quality: number;
  /** Probability that a lot of this quality is accepted, in [0, 1]. */
  readonly acceptance: number;
  /** Items taken on average, without curtailment. */
  readonly averageSample: number;
  /** Quality of what goes on after inspection on average, in the unit of quality. */
  readonly averageOutgoing: number;
}

/** The worst quality that is still accepted with a probability of at least `atLeast`; null when even perfect lots or all lots miss it. */
export interface OcRisk {
  readonly atLeast: number;
  readonly quality: number | null;
  /** The probability at that quality: `atLeast` itself, or somewhat more where a lot of known size leaves gaps between qualities. */
  readonly acceptance: number | null;
}

/** The operating characteristic of a plan: plain data for a curve, a table or a program. */
export interface OperatingCharacteristic {
  readonly distribution: OcDistribution;
  readonly lotSize: number | null;
  readonly unit: 'percent nonconforming' | 'nonconformities per 100 items';
  readonly points: readonly OcPoint[];
  /** The risk that a lot at the AQL is not accepted; null when no AQL was given. With a known lot, at the worst quality not above it. */
  readonly producersRisk: { readonly aql: number; readonly quality: number; readonly acceptance: number; readonly risk: number } | null;
  /** At 95, 50 and 10 percent acceptance, in this order. */
  readonly qualityAt: readonly OcRisk[];
  /** The average outgoing quality limit, the quality of incoming lots that leads to it, and how it was reckoned. */
  readonly aoql: { readonly quality: number; readonly atQuality: number; readonly formula: string };
  /** The largest average sample of a double plan and the quality it occurs at; null for a single plan. */
  readonly largestAverageSample: { readonly items: number; readonly atQuality: number } | null;
}

/** A plan or an option no operating characteristic can be given for; `message` says why. */
export class OcFault extends Error {
  override readonly name = 'OcFault';
}

const RISKS = [0.95, 0.5, 0.1] as const;
const CURVE_ENDS_AT = 0.001;
const DEFAULT_POINTS = 101;
const MOST_POINTS = 501;
/** Far beyond the plans of the standard, and few enough that a program asking for the worst of them waits less than a second. */
const LARGEST_NUMBER = { single: 1_000_000, double: 10_000 };
const MOST_WAYS_TO_A_SECOND = 20;
const LARGEST_LOT = 1_000_000_000;

/** Why there is no operating characteristic for this, or null. */
export function ocFault(plan: PlanNumbers, { distribution, lotSize, aql, points = DEFAULT_POINTS }: OcOptions): string | null {
  const numbers = 'n' in plan ? [plan.n, plan.ac] : [plan.n1, plan.ac1, plan.re1, plan.n2, plan.ac2, plan.re2];
  const items = 'n' in plan ? plan.n : plan.n1 + plan.n2;
  const smallest = 'n' in plan ? plan.n : Math.min(plan.n1, plan.n2);
  if (!numbers.every((number) => Number.isSafeInteger(number) && number >= 0))
    return 'a plan is made of whole numbers that are not negative';
  const largest = 'n' in plan ? LARGEST_NUMBER.single : LARGEST_NUMBER.double;
  if (Math.max(...numbers) > largest) return `no number of such a plan is above ${largest}`;
  if (smallest < 1 || items > largest) return `a sample has at least 1 item, and all samples of a plan together at most ${largest}`;
  if (!('n' in plan)) {
    if (plan.re1 <= plan.ac1 + 1) return 'between ac1 and re1 there must be a count that calls for the second sample';
    if (plan.ac2 < plan.ac1 || plan.re2 !== plan.ac2 + 1) return 're2 is ac2 + 1, and ac2 is not below ac1';
    if (plan.re1 - plan.ac1 > MOST_WAYS_TO_A_SECOND) return `re1 is at most ${MOST_WAYS_TO_A_SECOND} above ac1`;
  }
  if (lotSize === undefined && distribution === 'hypergeometric') return 'the hypergeometric distribution needs the lot size';
  if (lotSize !== undefined) {
    if (!Number.isSafeInteger(lotSize) || lotSize < 1 || lotSize > LARGEST_LOT) return `a lot has 1 to ${LARGEST_LOT} items`;
    if (items > lotSize) return `${items} items cannot be taken from a lot of ${lotSize}`;
  }
  if (aql !== undefined && !(aql > 0 && (distribution === 'poisson' || aql <= 100))) {
    return 'an AQL is above 0, and at most 100 when it is a percentage of nonconforming items';
  }
  if (!Number.isSafeInteger(points) || points < 2 || points > MOST_POINTS) return `a curve has 2 to ${MOST_POINTS} points`;
  return null;
}

/** Qualities in the order a search walks them: as a number in the unit of quality, or as nonconforming items in a lot. */
interface Axis {
  readonly whole: boolean;
  /** Where acceptance is as good as gone, or no worse quality exists. */
  readonly high: number;
  quality(x: number): number;
  law(x: number): Law;
  /** The law for all other items, seen from one nonconforming item. */
  others(x: number): Law;
}

const acceptanceOf = ({ acceptedFirst, acceptedSecond }: Course): number => Math.min(1, acceptedFirst + acceptedSecond);

function axisOf(plan: PlanNumbers, { distribution, lotSize = 0 }: OcOptions): Axis {
  if (distribution === 'hypergeometric') {
    const law = (nonconforming: number): Law => lotLaw(lotSize, nonconforming);
    return { whole: true, high: lotSize, quality: (x) => (100 * x) / lotSize, law, others: (x) => lotLaw(lotSize - 1, x - 1) };
  }
  // In a process items know nothing of one another, so the others follow the same law.
  const law = distribution === 'binomial' ? (x: number) => binomialLaw(x / 100) : (x: number) => poissonLaw(x / 100);
  let high = 100;
  if (distribution === 'poisson') while (acceptanceOf(courseOf(plan, law(high))) >= CURVE_ENDS_AT) high *= 2;
  return { whole: false, high, quality: (x) => x, law, others: law };
}

/**
 * The average outgoing quality: what a nonconforming item's chance is to be in no sample and in an accepted lot. Lots that are not
 * accepted are supposed to be screened, and every nonconforming item found to be replaced by a good one.
 */
function averageOutgoing(plan: PlanNumbers, axis: Axis, x: number, lotSize: number | undefined): number {
  if (x === 0) return 0;
  const { acceptedFirst, acceptedSecond } = courseOf(plan, axis.others(x));
  // A lot that is all sample leaves no item outside it, so what the law says of one is not asked.
  const passed = (accepted: number, items: number): number => {
    if (lotSize === undefined) return accepted;
    return items < lotSize ? (accepted * (lotSize - items)) / lotSize : 0;
  };
  const share = 'n' in plan ? passed(acceptedFirst, plan.n) : passed(acceptedFirst, plan.n1) + passed(acceptedSecond, plan.n1 + plan.n2);
  return axis.quality(x) * share;
}

function formulaOf(plan: PlanNumbers, { distribution, lotSize }: OcOptions): string {
  const single = 'n' in plan;
  if (lotSize === undefined) return 'largest p·Pa(p); the share of the lot in the sample is left out';
  const formula = single ? 'p·Pa(p)·(N − n)/N' : 'p·[Pa1(p)·(N − n1) + Pa2(p)·(N − n1 − n2)]/N';
  const seen =
    distribution === 'hypergeometric' ? '; Pa as seen by a nonconforming item outside the sample, which makes it exact for the lot' : '';
  return `largest ${formula}${seen}`;
}

function risk(accepted: (x: number) => number, axis: Axis, atLeast: number): OcRisk {
  const search = axis.whole ? lastWholeAtLeast : lastAtLeast;
  const x = search(accepted, atLeast, 0, axis.high);
  // A plan that accepts even the worst lots has no quality at which acceptance falls to this.
  if (x === null || x === axis.high) return { atLeast, quality: null, acceptance: null };
  return { atLeast, quality: axis.quality(x), acceptance: accepted(x) };
}

function curve(axis: Axis, end: number, points: number): readonly number[] {
  const xs = Array.from({ length: points }, (_, i) => (i === points - 1 ? end : (end * i) / (points - 1)));
  return axis.whole ? [...new Set(xs.map(Math.round))] : xs;
}

/** The worst whole number of nonconforming items that is not above the AQL; the small term undoes the rounding of decimal AQLs. */
const atAql = (axis: Axis, aql: number, lotSize = 0): number => (axis.whole ? Math.floor((lotSize * aql) / 100 + 1e-9) : aql);

/**
 * The operating characteristic of a single or double sampling plan, exact for its distribution (no curtailment; a double plan is summed
 * over all first samples).
 * @throws OcFault when the numbers make no plan, or the lot is too small for the sample; {@link ocFault} tells beforehand
 */
export function operatingCharacteristic(plan: PlanNumbers, options: OcOptions): OperatingCharacteristic {
  const fault = ocFault(plan, options);
  if (fault !== null) throw new OcFault(fault);
  const { distribution, lotSize, aql, points = DEFAULT_POINTS } = options;
  const axis = axisOf(plan, options);
  const course = (x: number): Course => courseOf(plan, axis.law(x));
  const accepted = (x: number): number => acceptanceOf(course(x));
  const sampled = ({ secondTaken }: Course): number => ('n' in plan ? plan.n : plan.n1 + plan.n2 * secondTaken);
  const outgoing = (x: number): number => averageOutgoing(plan, axis, x, lotSize);
  const end = (axis.whole ? lastWholeAtLeast : lastAtLeast)(accepted, CURVE_ENDS_AT, 0, axis.high) ?? axis.high;
  const worst = peakOf(outgoing, 0, end, axis.whole);
  const longest: Peak | null = 'n' in plan ? null : peakOf((at) => sampled(course(at)), 0, end, axis.whole);
  const x = aql === undefined ? null : atAql(axis, aql, lotSize);
  return {
    distribution,
    lotSize: lotSize ?? null,
    unit: distribution === 'poisson' ? 'nonconformities per 100 items' : 'percent nonconforming',
    points: curve(axis, end, points).map((at) => {
      const here = course(at);
      return { quality: axis.quality(at), acceptance: acceptanceOf(here), averageSample: sampled(here), averageOutgoing: outgoing(at) };
    }),
    producersRisk:
      aql === undefined || x === null ? null : { aql, quality: axis.quality(x), acceptance: accepted(x), risk: 1 - accepted(x) },
    qualityAt: RISKS.map((atLeast) => risk(accepted, axis, atLeast)),
    aoql: { quality: worst.value, atQuality: axis.quality(worst.at), formula: formulaOf(plan, options) },
    largestAverageSample: longest === null ? null : { items: longest.value, atQuality: axis.quality(longest.at) },
  };
}
