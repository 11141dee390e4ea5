import { type Axis, axisOf, roundStep } from './plot-axis.js';

/** How many values lie from `from` to below `to`; the last bin holds its upper end too. */
interface Bin {
  readonly from: number;
  readonly to: number;
  readonly count: number;
}

/** Values sorted into bins with round edges; about as many bins as the square root of the values, 5 to 20. */
export function binsOf(values: readonly number[]): Bin[] {
  if (values.length === 0) return [];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const about = Math.min(20, Math.max(5, Math.ceil(Math.sqrt(values.length))));
  const step = high > low ? roundStep(high - low, about) : Math.max(Math.abs(low) * 0.01, 1e-6);
  const first = Math.floor(low / step + 1e-9);
  const last = Math.max(first, Math.ceil(high / step - 1e-9) - 1);
  const counts = new Map<number, number>();
  for (const value of values) {
    const bin = Math.min(last, Math.floor(value / step + 1e-9));
    counts.set(bin, (counts.get(bin) ?? 0) + 1);
  }
  return Array.from({ length: last - first + 1 }, (_, i) => ({
    from: (first + i) * step,
    to: (first + i + 1) * step,
    count: counts.get(first + i) ?? 0,
  }));
}

interface HistogramDrawing {
  readonly x: Axis;
  readonly y: Axis;
  readonly bars: readonly { readonly bin: Bin; readonly x: number; readonly width: number; readonly y: number; readonly height: number }[];
}

/** Bars and limits in a picture of this size; the limits are always within it. */
export function histogramDrawing(
  bins: readonly Bin[],
  limits: readonly number[],
  size: { width: number; height: number },
  frame: { left: number; right: number; top: number; bottom: number },
): HistogramDrawing {
  const ends = [...bins.flatMap(({ from, to }) => [from, to]), ...limits];
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const room = (high - low) * 0.04;
  const x = axisOf(low - room, high + room, frame.left, size.width - frame.right, { about: 8 });
  const most = Math.max(1, ...bins.map(({ count }) => count));
  const y = axisOf(0, most, size.height - frame.bottom, frame.top, { about: Math.min(5, most) });
  return {
    x,
    y,
    bars: bins.map((bin) => ({
      bin,
      x: x.at(bin.from),
      width: x.at(bin.to) - x.at(bin.from),
      y: y.at(bin.count),
      height: y.at(0) - y.at(bin.count),
    })),
  };
}
