/**
 * The four rules of the Western Electric Statistical Quality Control Handbook (1956), as NIST/SEMATECH 6.3.2 sums them up:
 * 1 one point beyond 3 sigma; 2 two of three successive points beyond 2 sigma on one side; 3 four of five beyond 1 sigma
 * on one side; 4 eight successive points on one side of the centre line.
 */
export type WesternElectricRule = 1 | 2 | 3 | 4;

/** What each rule looks for, in words. */
export const WESTERN_ELECTRIC_RULES: Readonly<Record<WesternElectricRule, string>> = {
  1: 'one point beyond 3 sigma',
  2: 'two of three successive points beyond 2 sigma on the same side',
  3: 'four of five successive points beyond 1 sigma on the same side',
  4: 'eight successive points on the same side of the centre line',
};

/** A point with the centre line and the standard deviation of what is plotted, which may differ from point to point. */
export interface PlacedPoint {
  readonly value: number;
  readonly centre: number;
  readonly sigma: number;
}

/** A pattern that a point completes; places count from 0. */
export interface Pattern {
  readonly rule: WesternElectricRule;
  /** The point that completes it and itself lies in its zone. */
  readonly at: number;
  /** The first point of the pattern. */
  readonly from: number;
  readonly side: 'above' | 'below';
}

interface Zone {
  readonly rule: WesternElectricRule;
  readonly sigmas: number;
  /** So many of the last `window` points. */
  readonly needed: number;
  readonly window: number;
}

const ZONES: readonly Zone[] = [
  { rule: 1, sigmas: 3, needed: 1, window: 1 },
  { rule: 2, sigmas: 2, needed: 2, window: 3 },
  { rule: 3, sigmas: 1, needed: 4, window: 5 },
  { rule: 4, sigmas: 0, needed: 8, window: 8 },
];

// A limit is worked out in floating point: what is nearer to it than this is on it.
const SHARE_OF_SIGMA = 1e-9;
const SHARE_OF_SIZE = 1e-15;

/** Whether a point lies beyond so many sigmas on a side (1 above, −1 below). A point on the line is not beyond it. */
function beyond({ value, centre, sigma }: PlacedPoint, sigmas: number, sign: 1 | -1): boolean {
  const slack = SHARE_OF_SIGMA * sigma + SHARE_OF_SIZE * Math.abs(centre);
  return sign * (value - centre) - sigmas * sigma > slack;
}

/**
 * Every pattern of the rules, by point and then by rule. Zones are looked at one side at a time; a point on the centre
 * line breaks a run; a pattern is found as soon as no later point could undo it, so two points beyond 2 sigma at the very
 * start are one.
 * @param rules the rules to apply; all four when left out
 * @param newRunsAt places (from 0) before which no pattern reaches back: a recorded change of the process
 */
export function westernElectricPatterns(
  points: readonly PlacedPoint[],
  {
    rules = [1, 2, 3, 4],
    newRunsAt = [],
  }: { readonly rules?: readonly WesternElectricRule[]; readonly newRunsAt?: readonly number[] } = {},
): Pattern[] {
  const zones = ZONES.filter(({ rule }) => rules.includes(rule));
  const starts = new Set(newRunsAt);
  let runStart = 0;
  return points.flatMap((_point, at) => {
    if (starts.has(at)) runStart = at;
    return zones.flatMap((zone) =>
      ([1, -1] as const).flatMap((sign) => {
        const from = patternStart(points, at, runStart, zone, sign);
        return from === null ? [] : [{ rule: zone.rule, at, from, side: sign === 1 ? ('above' as const) : ('below' as const) }];
      }),
    );
  });
}

function patternStart(points: readonly PlacedPoint[], at: number, runStart: number, zone: Zone, sign: 1 | -1): number | null {
  const inZone = (i: number) => {
    const point = points[i];
    return point !== undefined && beyond(point, zone.sigmas, sign);
  };
  if (!inZone(at)) return null;
  let found = 0;
  for (let i = at; i >= Math.max(runStart, at - zone.window + 1); i -= 1) {
    if (inZone(i)) found += 1;
    if (found === zone.needed) return i;
  }
  return null;
}
