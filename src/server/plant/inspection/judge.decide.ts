import type { Characteristic, MeasuredCharacteristic, SeverityClass } from '../catalogue/inspection-plan.facts.js';
import type { ClassPlan, InspectedItem, SamplePlan, Verdict } from './inspection.facts.js';
import type { StandingResult, StandingTally } from './inspection-state.facts.js';

interface ToJudge {
  /** Null: only the lot is tested. */
  readonly sample: SamplePlan | null;
  readonly characteristics: readonly Characteristic[];
  readonly tallies: readonly StandingTally[];
  readonly results: readonly StandingResult[];
}

/** How one class stands. */
export interface ClassStanding {
  readonly class: SeverityClass;
  readonly found: readonly [first: number, both: number];
  /** Acceptance and rejection numbers that count now. */
  readonly ac: number;
  readonly re: number;
  readonly standing: 'open' | 'second-sample' | Verdict;
  readonly because: string;
}

/** Where an inspection stands: what is still to be looked at, and the verdict as far as there is one. */
export interface Judgement {
  readonly classes: readonly ClassStanding[];
  /** Items looked at in the first and in the second sample. */
  readonly inspected: readonly [first: number, second: number];
  /** Items still to look at; the second sample counts only once a class needs it. */
  readonly toInspect: number;
  readonly secondSample: boolean;
  /** Required tests of the lot without a result, and measurements missing on items of the sample, in words. */
  readonly missing: readonly string[];
  /** Tests of the lot out of their limits, in words. */
  readonly failed: readonly string[];
  readonly nonconforming: number;
  readonly verdict: Verdict | null;
  /** Not accepted before the whole sample was looked at and every test was done. */
  readonly curtailed: boolean;
}

/**
 * Judges what has been found so far by the plan that was fixed when the inspection began.
 * Not accepted is said as soon as it is certain; accepted only when everything the plan asks for was looked at.
 * @see docs/rules/inspection.md IN-10 to IN-16
 */
export function judge(state: ToJudge): Judgement {
  const { sample } = state;
  const inspected = [itemsOf(state.tallies, 1), itemsOf(state.tallies, 2)] as const;
  const classes = sample === null ? [] : standings(sample, state.tallies, inspected);
  const secondSample = classes.some((one) => one.standing === 'second-sample') || inspected[1] > 0;
  const toInspect = sample === null ? 0 : leftToInspect(sample, inspected, secondSample);
  const { missing, failed } = testsOf(state);
  const refused = failed.length > 0 || classes.some((one) => one.standing === 'not-accepted');
  const complete = toInspect === 0 && missing.length === 0 && classes.every((one) => one.standing === 'accepted');
  return {
    classes,
    inspected,
    toInspect,
    secondSample,
    missing,
    failed,
    nonconforming: state.tallies.flatMap((tally) => tally.items).filter((item) => item.found.length > 0).length,
    verdict: refused ? 'not-accepted' : complete ? 'accepted' : null,
    curtailed: refused && (toInspect > 0 || missing.length > 0),
  };
}

const itemsOf = (tallies: readonly StandingTally[], sample: 1 | 2): number =>
  tallies.filter((tally) => tally.sample === sample).reduce((sum, tally) => sum + tally.conforming + tally.items.length, 0);

function leftToInspect(sample: SamplePlan, inspected: readonly [number, number], secondSample: boolean): number {
  const first = Math.max(0, sample.sizes[0] - inspected[0]);
  return first + (secondSample && sample.sizes[1] !== null ? Math.max(0, sample.sizes[1] - inspected[1]) : 0);
}

function standings(sample: SamplePlan, tallies: readonly StandingTally[], inspected: readonly [number, number]): ClassStanding[] {
  const countOf = (of: SeverityClass): readonly [number, number] => {
    const first = countIn(sample, tallies, 1, of);
    return [first, first + countIn(sample, tallies, 2, of)];
  };
  const full = [inspected[0] >= sample.sizes[0], sample.sizes[1] === null || inspected[1] >= sample.sizes[1]] as const;
  const judged = sample.classes.map((plan) => standing(plan, countOf(plan.class), full, looks(sample.sizes, inspected)));
  const waits = judged.some((one) => one.standing === 'second-sample') || inspected[1] > 0;
  const critical = countOf('critical');
  const all = full[0] && (!waits || full[1]);
  return [criticalStanding(critical, all, looks(sample.sizes, inspected)[waits ? 1 : 0]), ...judged];
}

/** Nonconforming items go by their worst class only; nonconformities are counted one by one. */
function countIn(sample: SamplePlan, tallies: readonly StandingTally[], stage: 1 | 2, of: SeverityClass): number {
  const items = tallies.filter((tally) => tally.sample === stage).flatMap((tally) => tally.items);
  if (sample.basis === 'items') return items.filter((item) => worstOf(item) === of).length;
  return items.flatMap((item) => item.found).reduce((sum, found) => sum + (found.class === of ? found.count : 0), 0);
}

const ORDER: readonly SeverityClass[] = ['critical', 'major', 'minor'];

/** The class an item counts in: its worst one (MIL-STD-105E definitions of critical, major and minor; from memory). */
export const worstOf = (item: InspectedItem): SeverityClass | null =>
  ORDER.find((of) => item.found.some((found) => found.class === of)) ?? null;

/**
 * What a count is a count of, in words: of the first sample, and of both. What was stopped early says how many were looked at, so
 * that nothing found is not taken for nothing there.
 */
function looks([first, second]: SamplePlan['sizes'], [one, two]: readonly [number, number]): readonly [string, string] {
  const of = (looked: number, size: number): string => (looked < size ? `${looked} looked at of ${size}` : `${size}`);
  return [of(one, first), of(one + two, first + (second ?? 0))];
}

/** Critical is never sampled away: one found is enough, whatever the plan says (domain rule 8). */
const criticalStanding = (found: readonly [number, number], full: boolean, looked: string): ClassStanding => ({
  class: 'critical',
  found,
  ac: 0,
  re: 1,
  standing: found[1] > 0 ? 'not-accepted' : full ? 'accepted' : 'open',
  because: found[1] > 0 ? `${found[1]} critical found: one is enough` : full ? 'no critical found' : `no critical in ${looked}`,
});

function standing(
  { class: of, plan }: ClassPlan,
  found: readonly [number, number],
  full: readonly [boolean, boolean],
  [looked, lookedInAll]: readonly [string, string],
): ClassStanding {
  const say = (count: number, among: string, rest: string): string => `${count} ${of} in ${among}, ${rest}`;
  const [first, both] = found;
  if ('n' in plan) {
    const { ac, re } = plan;
    if (first >= re) return { class: of, found, ac, re, standing: 'not-accepted', because: say(first, looked, `not accepted at ${re}`) };
    return { class: of, found, ac, re, standing: full[0] ? 'accepted' : 'open', because: say(first, looked, `accepted up to ${ac}`) };
  }
  const { ac1, re1, ac2, re2 } = plan;
  if (first >= re1) {
    return { class: of, found, ac: ac1, re: re1, standing: 'not-accepted', because: say(first, looked, `not accepted at ${re1}`) };
  }
  if (first <= ac1) {
    const because = say(first, looked, `accepted up to ${ac1}`);
    return { class: of, found, ac: ac1, re: re1, standing: full[0] ? 'accepted' : 'open', because };
  }
  if (both >= re2) {
    return { class: of, found, ac: ac2, re: re2, standing: 'not-accepted', because: say(both, lookedInAll, `not accepted at ${re2}`) };
  }
  if (!full[0]) return { class: of, found, ac: ac1, re: re1, standing: 'open', because: say(first, looked, `between ${ac1} and ${re1}`) };
  const because = say(both, lookedInAll, `accepted up to ${ac2}`);
  return { class: of, found, ac: ac2, re: re2, standing: full[1] ? 'accepted' : 'second-sample', because };
}

function testsOf(state: ToJudge): { missing: string[]; failed: string[] } {
  const measured = state.characteristics.filter((one): one is MeasuredCharacteristic => one.kind === 'measured');
  const results = new Map(state.results.map((one) => [one.measured.characteristic, one]));
  const missing: string[] = [];
  for (const one of measured.filter((of) => of.required)) {
    if (one.per === 'lot') {
      if (!results.has(one.code)) missing.push(`${one.name}: no result`);
    } else if (state.sample !== null) {
      const wanted = Math.min(one.items ?? state.sample.sizes[0], state.sample.sizes[0]);
      const done = state.tallies
        .flatMap((tally) => tally.items)
        .filter((item) => item.measured.some((of) => of.characteristic === one.code));
      if (done.length < wanted) missing.push(`${one.name}: measured on ${done.length} of ${wanted} items`);
    }
  }
  const failed = state.results.flatMap(({ measured: of }) => (of.within ? [] : [`${of.characteristic}: ${of.fault ?? 'out of limits'}`]));
  return { missing, failed };
}
