import { type PlacedPoint, WESTERN_ELECTRIC_RULES, westernElectricPatterns, type WesternElectricRule } from './western-electric.js';

/** Values of which no control chart can be made; `message` says why in plain words. */
export class ChartFault extends Error {
  override readonly name = 'ChartFault';
}

/** What goes with the values beside them. */
export interface ChartOptions {
  /** Limits come from the first so many points; from all when left out. */
  readonly baseline?: number | undefined;
  /** Points (from 1) with which the process was changed on record: no pattern reaches back over one. */
  readonly changedAt?: readonly number[] | undefined;
}

/** One point, ready to be drawn. Numbers are in the unit of what is plotted. */
export interface ChartPoint {
  /** Its place in the values given, from 1. */
  readonly at: number;
  readonly value: number;
  readonly lower: number;
  readonly upper: number;
  /** The bands at 1 and 2 sigma, where zone rules apply to this chart; else empty. */
  readonly zones: readonly { readonly sigmas: 1 | 2; readonly lower: number; readonly upper: number }[];
  /** Distance from the centre line in sigmas; null when there is no spread. */
  readonly z: number | null;
  /** Whether the limits rest on this point. */
  readonly baseline: boolean;
  readonly signals: readonly WesternElectricRule[];
}

/** A pattern found, in words. */
interface ChartSignal {
  readonly rule: WesternElectricRule;
  readonly at: number;
  readonly from: number;
  readonly side: 'above' | 'below';
  readonly words: string;
}

/** What is plotted on a panel. */
type Statistic = 'mean' | 'range' | 'individual' | 'moving-range' | 'fraction' | 'count';

/** One picture: a centre line, points with limits, and what they signal. */
export interface ChartPanel {
  readonly statistic: Statistic;
  readonly centre: number;
  readonly points: readonly ChartPoint[];
  readonly signals: readonly ChartSignal[];
}

/** Something a reader must know before relying on the chart. */
export interface Caution {
  readonly about: string;
  readonly words: string;
}

/** A control chart as plain data. */
export interface ControlChart {
  readonly kind: 'mean-range' | 'individuals' | 'fraction' | 'count';
  readonly panels: readonly ChartPanel[];
  /** How many points the limits rest on. */
  readonly baseline: number;
  /** Whether no rule found anything on any panel. */
  readonly inControl: boolean;
  readonly cautions: readonly Caution[];
}

/** What a panel is made from. */
interface PanelSource {
  readonly statistic: Statistic;
  readonly centre: number;
  /** Place, value and sigma of each point. */
  readonly points: readonly { readonly at: number; readonly value: number; readonly sigma: number }[];
  readonly baseline: number;
  readonly changedAt: readonly number[];
  /** Where the scale ends: nothing is drawn or found beyond. */
  readonly floor?: number;
  readonly ceiling?: number;
}

/**
 * Places the points of a panel and applies the rules. Ranges take rule 1 only: they are not spread evenly about their
 * mean, and moving ranges share a value with their neighbour.
 */
export function panelOf({
  statistic,
  centre,
  points,
  baseline,
  changedAt,
  floor = -Infinity,
  ceiling = Infinity,
}: PanelSource): ChartPanel {
  const zoned = statistic !== 'range' && statistic !== 'moving-range';
  const placed: PlacedPoint[] = points.map(({ value, sigma }) => ({ value, centre, sigma }));
  const changes = new Set(changedAt);
  const newRunsAt = points.flatMap(({ at }, i) => (changes.has(at) ? [i] : []));
  const patterns = westernElectricPatterns(placed, { rules: zoned ? [1, 2, 3, 4] : [1], newRunsAt });
  const within = (value: number) => Math.min(ceiling, Math.max(floor, value));
  const band = (sigma: number, sigmas: number) => ({ lower: within(centre - sigmas * sigma), upper: within(centre + sigmas * sigma) });
  const place = (i: number) => points[i]?.at ?? i + 1;
  return {
    statistic,
    centre,
    points: points.map(({ at, value, sigma }, i) => ({
      at,
      value,
      ...band(sigma, 3),
      zones: zoned ? ([1, 2] as const).map((sigmas) => ({ sigmas, ...band(sigma, sigmas) })) : [],
      z: sigma > 0 ? (value - centre) / sigma : null,
      baseline: at <= baseline,
      signals: patterns.filter((pattern) => pattern.at === i).map(({ rule }) => rule),
    })),
    signals: patterns.map(({ rule, at, from, side }) => ({
      rule,
      at: place(at),
      from: place(from),
      side,
      words: inWords(rule, place(at), place(from), side),
    })),
  };
}

function inWords(rule: WesternElectricRule, at: number, from: number, side: 'above' | 'below'): string {
  const where = side === 'above' ? 'above the centre line' : 'below the centre line';
  const which = from === at ? `point ${at}` : `points ${from} to ${at}`;
  if (rule === 1) return `${which} is ${side === 'above' ? 'above the upper' : 'below the lower'} limit`;
  return `${which}: ${WESTERN_ELECTRIC_RULES[rule]}, ${where}`;
}

/**
 * How many points the limits rest on.
 * @throws ChartFault when that is not a whole number from `least` to the number of points
 */
export function baselineOf(points: number, { baseline, changedAt = [] }: ChartOptions, least: number): number {
  if (points < least)
    throw new ChartFault(
      `a chart needs at least ${least} ${least === 1 ? 'point' : 'points'}; there ${points === 1 ? 'is' : 'are'} ${points}`,
    );
  const asked = baseline ?? points;
  if (!Number.isInteger(asked) || asked < least || asked > points) {
    throw new ChartFault(`limits come from ${least} to ${points} points, not from ${asked}`);
  }
  const strange = changedAt.find((at) => !Number.isInteger(at) || at < 1 || at > points);
  if (strange !== undefined) throw new ChartFault(`there is no point ${strange}`);
  return asked;
}
