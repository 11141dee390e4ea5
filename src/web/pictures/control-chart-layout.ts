import { hundredths } from '../../../shared/hundredths.js';
import { type Axis, axisOf } from './plot-axis.js';

/** A panel of a control chart as the server answers it. */
export interface Panel {
  readonly statistic: string;
  readonly centre: number;
  readonly points: readonly {
    readonly at: number;
    readonly value: number;
    readonly lower: number;
    readonly upper: number;
    readonly zones: readonly { readonly sigmas: number; readonly lower: number; readonly upper: number }[];
    readonly baseline: boolean;
    /** Numbers of the rules that the point completes. */
    readonly signals: readonly number[];
  }[];
}

/** How a point is drawn: by the first of the rules it completes. Shape tells them apart, not colour. */
export type Shape = 'dot' | 'diamond' | 'triangle' | 'square' | 'star';
const SHAPES: Readonly<Record<number, Shape>> = { 1: 'diamond', 2: 'triangle', 3: 'square', 4: 'star' };

/** The shape of a rule's points. */
export const shapeOfRule = (rule: number): Shape => SHAPES[rule] ?? 'diamond';

export interface ChartPoint {
  readonly at: number;
  readonly x: number;
  readonly y: number;
  readonly shape: Shape;
  readonly signals: readonly number[];
}

export interface ChartDrawing {
  readonly y: Axis;
  readonly points: readonly ChartPoint[];
  /** SVG paths. Limits are stepped: a chart of fractions has limits of its own for each point. */
  readonly line: string;
  readonly lower: string;
  readonly upper: string;
  readonly zones: readonly { readonly sigmas: number; readonly path: string }[];
  readonly centreY: number;
  /** Where the limits from the baseline end, if they do. */
  readonly baselineX: number | null;
  /** Which points are numbered below. */
  readonly ticks: readonly { readonly at: number; readonly x: number }[];
}

const MOST_TICKS = 15;

/** A panel in a picture of this size; `frame` is the room left for axes and words. */
export function controlChartDrawing(
  { centre, points }: Panel,
  size: { width: number; height: number },
  frame: { left: number; right: number; top: number; bottom: number },
): ChartDrawing {
  const values = points.flatMap(({ value, lower, upper }) => [value, lower, upper]);
  const [low, high] = [Math.min(centre, ...values), Math.max(centre, ...values)];
  const room = (high - low) * 0.06;
  const y = axisOf(low - room, high + room, size.height - frame.bottom, frame.top, { about: 5 });
  const run = (size.width - frame.left - frame.right) / Math.max(1, points.length);
  const left = (place: number): number => frame.left + run * place;
  const stepped = (of: (point: Panel['points'][number]) => number): string =>
    points
      .map(
        (point, i) =>
          `${i === 0 ? `M${hundredths(left(0))} ${hundredths(y.at(of(point)))}` : `V${hundredths(y.at(of(point)))}`}H${hundredths(left(i + 1))}`,
      )
      .join('');
  const drawn = points.map((point, i) => ({
    at: point.at,
    x: left(i + 0.5),
    y: y.at(point.value),
    shape: point.signals[0] === undefined ? ('dot' as const) : shapeOfRule(point.signals[0]),
    signals: point.signals,
  }));
  const beyond = points.findIndex(({ baseline }) => !baseline);
  const every = Math.max(1, Math.ceil(points.length / MOST_TICKS));
  return {
    y,
    points: drawn,
    line: drawn.map((point, i) => `${i === 0 ? 'M' : 'L'}${hundredths(point.x)} ${hundredths(point.y)}`).join(''),
    lower: stepped(({ lower }) => lower),
    upper: stepped(({ upper }) => upper),
    zones: (points[0]?.zones ?? []).map(({ sigmas }) => ({ sigmas, path: zonePath(points, sigmas, stepped) })),
    centreY: y.at(centre),
    baselineX: beyond <= 0 ? null : left(beyond),
    ticks: drawn.filter((_, i) => i % every === 0).map(({ at, x }) => ({ at, x })),
  };
}

function zonePath(points: Panel['points'], sigmas: number, stepped: (of: (point: Panel['points'][number]) => number) => string): string {
  const zone = (point: Panel['points'][number]) => point.zones.find((one) => one.sigmas === sigmas);
  return points.length === 0
    ? ''
    : stepped((point) => zone(point)?.upper ?? point.upper) + stepped((point) => zone(point)?.lower ?? point.lower);
}
