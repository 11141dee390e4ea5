import { hundredths } from '../../../shared/hundredths.js';
import { type Axis, axisOf, writtenFigure } from './plot-axis.js';

/** A point of an operating characteristic as the server answers it. */
interface CurvePoint {
  readonly quality: number;
  readonly acceptance: number;
}

/** A point of the curve that has a name. */
interface NamedPoint extends CurvePoint {
  readonly label: string;
}

/** The curve as the server answers it, as far as it is drawn. */
export interface Curve {
  /** What qualities are counted in. */
  readonly unit: string;
  readonly points: readonly CurvePoint[];
  readonly producersRisk: { readonly aql: number; readonly quality: number; readonly acceptance: number; readonly risk: number } | null;
  readonly qualityAt: readonly { readonly atLeast: number; readonly quality: number | null; readonly acceptance: number | null }[];
}

export interface OcDrawing {
  readonly x: Axis;
  readonly y: Axis;
  /** An SVG path. */
  readonly path: string;
  /** Each with where its words stand: never over the curve, never over each other. */
  readonly named: readonly (NamedPoint & { readonly x: number; readonly y: number; readonly labelX: number; readonly labelY: number })[];
}

const LINE = 20;
const ABOVE = 8;
const BESIDE = 10;
/** A share in percent, three digits of it. */
export const percent = (fraction: number): string => `${writtenFigure(fraction * 100, 3)} %`;

/** The points of the curve that people agree on: the producer's risk at the AQL, even chances, the consumer's risk. */
export function namedPoints({ producersRisk, qualityAt, unit }: Curve): NamedPoint[] {
  const named: NamedPoint[] = [];
  const written = (quality: number): string => `${writtenFigure(quality, 3)} ${unit === 'percent nonconforming' ? '%' : 'per 100'}`;
  if (producersRisk !== null) {
    const { aql, quality, acceptance, risk } = producersRisk;
    named.push({ quality, acceptance, label: `Producer's risk ${percent(risk)} at AQL ${writtenFigure(aql)}` });
  }
  for (const { atLeast, quality, acceptance } of qualityAt) {
    if (quality === null || acceptance === null) continue;
    const at = written(quality);
    if (atLeast === 0.1) named.push({ quality, acceptance, label: `Consumer's risk ${percent(acceptance)} at ${at}` });
    else named.push({ quality, acceptance, label: `${percent(acceptance)} accepted at ${at}` });
  }
  return named;
}

/** The curve in a picture of this size; `frame` is the room left for axes. */
export function ocDrawing(
  curve: Curve,
  size: { width: number; height: number },
  frame: { left: number; right: number; top: number; bottom: number },
): OcDrawing {
  const { points } = curve;
  const last = points.at(-1)?.quality ?? 1;
  const x = axisOf(0, last, frame.left, size.width - frame.right, { about: 8 });
  const y = axisOf(0, 1, size.height - frame.bottom, frame.top, { about: 5 });
  const path = points
    .map(({ quality, acceptance }, i) => `${i === 0 ? 'M' : 'L'}${hundredths(x.at(quality))} ${hundredths(y.at(acceptance))}`)
    .join('');
  let top = Infinity;
  // The curve falls to the right, so above it and right of a point there is nothing: words go there, and what would collide goes higher.
  const named = namedPoints(curve)
    .toSorted((one, other) => one.acceptance - other.acceptance || other.quality - one.quality)
    .map((point) => {
      const at = { x: x.at(point.quality), y: y.at(point.acceptance) };
      top = Math.min(at.y - ABOVE, top - LINE);
      return { ...point, ...at, labelX: at.x + BESIDE, labelY: top };
    });
  return { x, y, path, named };
}
