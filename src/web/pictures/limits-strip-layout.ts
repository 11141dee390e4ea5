import { type Axis, axisOf } from './plot-axis.js';

/** A measured characteristic with what was read and what came of it, as numbers of its unit. */
export interface Measurement {
  readonly lower: number | null;
  readonly upper: number | null;
  readonly target: number | null;
  readonly readings: readonly number[];
  readonly result: number | null;
}

/** A line of the strip with its words. Labels never overlap: those that would are set in a lower row. */
interface StripLine {
  readonly kind: 'lower' | 'upper' | 'target';
  readonly x: number;
  readonly label: string;
  readonly row: number;
  readonly anchor: 'start' | 'middle' | 'end';
}

interface LimitsStrip {
  readonly axis: Axis;
  /** The stretch within the limits. */
  readonly within: { readonly x: number; readonly width: number };
  readonly lines: readonly StripLine[];
  readonly readings: readonly number[];
  readonly result: number | null;
  readonly rows: number;
}

const CHAR = 7.2;
const GAP = 12;

/** Where everything lies on a strip so wide. Limits and readings are all within it, with room at both ends. */
export function limitsStrip({ lower, upper, target, readings, result }: Measurement, width: number): LimitsStrip {
  const values = [lower, upper, target, result, ...readings].filter((value) => value !== null);
  const [low, high] = values.length === 0 ? [0, 1] : [Math.min(...values), Math.max(...values)];
  const room = (high - low || Math.max(Math.abs(high) * 0.2, 1)) * 0.18;
  const axis = axisOf(low - room, high + room, 0, width);
  const from = lower === null ? 0 : axis.at(lower);
  const to = upper === null ? width : axis.at(upper);
  const lines = placed(
    [
      { kind: 'lower' as const, value: lower, says: 'lower' },
      { kind: 'target' as const, value: target, says: 'target' },
      { kind: 'upper' as const, value: upper, says: 'upper' },
    ].flatMap(({ kind, value, says }) =>
      value === null ? [] : [{ kind, x: axis.at(value), label: `${says} ${`${value}`.replace('-', '−')}` }],
    ),
    width,
  );
  return {
    axis,
    within: { x: from, width: Math.max(0, to - from) },
    lines,
    readings: readings.map((value) => axis.at(value)),
    result: result === null ? null : axis.at(result),
    rows: Math.max(0, ...lines.map(({ row }) => row)) + 1,
  };
}

function placed(lines: readonly Pick<StripLine, 'kind' | 'x' | 'label'>[], width: number): StripLine[] {
  const ends: number[] = [];
  return lines
    .toSorted((a, b) => a.x - b.x)
    .map((line) => {
      const half = (line.label.length * CHAR) / 2;
      const anchor = line.x < half ? 'start' : line.x > width - half ? 'end' : 'middle';
      const left = anchor === 'start' ? line.x : anchor === 'end' ? line.x - 2 * half : line.x - half;
      const free = ends.findIndex((end) => end + GAP <= left);
      const row = free === -1 ? ends.length : free;
      ends[row] = left + 2 * half;
      return { ...line, anchor, row };
    });
}
