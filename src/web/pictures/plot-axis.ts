/** A scale with ticks at round numbers. */
export interface Axis {
  readonly low: number;
  readonly high: number;
  readonly ticks: readonly { readonly value: number; readonly at: number; readonly label: string }[];
  /** Where a value lies in the picture. */
  at(value: number): number;
  /** The value at a place in the picture. */
  valueAt(place: number): number;
}

const STEPS = [1, 2, 5, 10];

/** A round step that gives about so many ticks. */
export function roundStep(span: number, about: number): number {
  const raw = span / Math.max(1, about);
  const power = 10 ** Math.floor(Math.log10(raw));
  return (STEPS.find((step) => step * power >= raw * (1 - 1e-9)) ?? 10) * power;
}

const decimalsOf = (step: number): number => Math.max(0, Math.min(9, -Math.floor(Math.log10(step) + 1e-9)));

/** A number as it stands on an axis or in a line of text: no more digits than asked, a real minus sign. */
export const written = (value: number, decimals: number): string =>
  value
    .toFixed(decimals)
    .replace(/^-(?=0(\.0+)?$)/u, '')
    .replace('-', '−');

/** A figure to so many significant digits, without zeros at its end: `0.954`, `12.5`, `−3`. */
export function writtenFigure(value: number, digits = 4): string {
  if (!Number.isFinite(value)) return '';
  return `${Number(value.toPrecision(digits))}`.replace('-', '−');
}

/**
 * An axis from `from` to `to` in the picture over the values `low` to `high`; with `widen` it ends at round numbers beyond them.
 * A single value gets room on both sides.
 */
export function axisOf(low: number, high: number, from: number, to: number, { about = 5, widen = false } = {}): Axis {
  const room = high > low ? 0 : Math.max(Math.abs(low) * 0.1, 1e-6);
  const step = roundStep(high - low + 2 * room, about);
  const [first, last] = widen
    ? [Math.floor((low - room) / step + 1e-9) * step, Math.ceil((high + room) / step - 1e-9) * step]
    : [low - room, high + room];
  const at = (value: number): number => from + ((value - first) / (last - first)) * (to - from);
  const ticks = [];
  const decimals = decimalsOf(step);
  for (let tick = Math.ceil(first / step - 1e-9); tick * step <= last + step * 1e-9; tick++) {
    const value = tick * step;
    ticks.push({ value, at: at(value), label: written(value, decimals) });
  }
  return { low: first, high: last, ticks, at, valueAt: (place) => first + ((place - from) / (to - from)) * (last - first) };
}
