import type { Span } from './spans.js';

const TICKS = 6;

interface Tick {
  readonly piece: number;
  readonly x: number;
}

/**
 * Round piece numbers along a stretch of a lot, its first and last piece among them, none so near to the next that their figures would
 * touch.
 * @param xOf where the middle of a piece is
 * @param charWidth mean width of a character, in the units of x
 */
export function ribbonTicks([first, last]: Span, xOf: (piece: number) => number, charWidth: number): Tick[] {
  if (last < first) return [];
  const rough = (last - first + 1) / TICKS;
  const power = 10 ** Math.floor(Math.log10(Math.max(1, rough)));
  const step = power * ([1, 2, 5, 10].find((factor) => factor * power >= rough) ?? 10);
  const at = (piece: number): Tick => ({ piece, x: xOf(piece) });
  const apart = (`${last}`.length + 2) * charWidth;
  const end = at(last);
  const ticks = [at(first)];
  for (let piece = Math.ceil(first / step) * step; piece < last; piece += step) {
    const tick = at(piece);
    if (tick.x - (ticks.at(-1)?.x ?? 0) >= apart && end.x - tick.x >= apart) ticks.push(tick);
  }
  return first === last || end.x - (ticks.at(-1)?.x ?? 0) < apart ? ticks : [...ticks, end];
}
