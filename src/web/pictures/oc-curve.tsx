import { useId, useState } from 'react';
import { LedgerTable } from '../design/ledger-table.js';
import { type Curve, namedPoints, type OcDrawing, ocDrawing } from './oc-curve-layout.js';
import { writtenFigure } from './plot-axis.js';
import { useWidth } from './use-width.js';
import './plot.css';

interface FullCurve extends Curve {
  readonly points: readonly {
    readonly quality: number;
    readonly acceptance: number;
    readonly averageSample: number;
    readonly averageOutgoing: number;
  }[];
}

const HEIGHT = 380;
const FRAME = { left: 64, right: 14, top: 38, bottom: 52 };
const CHAR = 7.2;
const percent = (fraction: number): string => `${writtenFigure(fraction * 100, 4)} %`;

/**
 * The operating characteristic of a plan: how probably a lot of each quality is accepted, with the risks named on it. Pointing at it or
 * moving the slider with the keys reads its values; the table has them all.
 */
export function OcCurvePicture({ curve, name }: { curve: FullCurve; name: string }) {
  const [box, width] = useWidth<HTMLDivElement>();
  const [at, setAt] = useState<number | null>(null);
  const slider = useId();
  const read = at === null ? undefined : curve.points[at];
  const says = `${name}: probability of acceptance over ${curve.unit}. ${namedPoints(curve)
    .map(({ label }) => label)
    .join('; ')}`;
  return (
    <figure className="plot">
      <div ref={box}>{width > 200 ? <Drawing curve={curve} width={width} at={at} onAt={setAt} says={says} /> : null}</div>
      <div className="plot-reader no-print">
        <label htmlFor={slider}>Read the curve</label>
        <input
          id={slider}
          type="range"
          min={0}
          max={curve.points.length - 1}
          value={at ?? 0}
          aria-valuetext={read === undefined ? 'nothing read' : readingOf(read, curve.unit)}
          onChange={(event) => setAt(Number(event.target.value))}
        />
        <output htmlFor={slider}>{read === undefined ? 'Point at the curve, or move the slider.' : readingOf(read, curve.unit)}</output>
      </div>
      <details className="same-table">
        <summary>The same as a table</summary>
        <LedgerTable
          caption={`${name}, point by point`}
          rows={curve.points.map((point, place) => ({ ...point, place }))}
          rowKey={({ place }) => `${place}`}
          rowClass={({ place }) => (place === at ? 'chosen' : undefined)}
          onRow={(row) => setAt(row?.place ?? null)}
          columns={[
            { head: `Comes in (${curve.unit})`, num: true, cell: ({ quality }) => writtenFigure(quality) },
            { head: 'Accepted', num: true, cell: ({ acceptance }) => percent(acceptance) },
            { head: 'Items taken on average', num: true, cell: ({ averageSample }) => writtenFigure(averageSample) },
            { head: `Goes on, on average (${curve.unit})`, num: true, cell: ({ averageOutgoing }) => writtenFigure(averageOutgoing) },
          ]}
        />
      </details>
    </figure>
  );
}

const readingOf = ({ quality, acceptance, averageSample, averageOutgoing }: FullCurve['points'][number], unit: string): string =>
  `Of lots with ${writtenFigure(quality)} ${unit}, ${percent(acceptance)} are accepted; ${writtenFigure(averageSample)} items are taken on average; ` +
  `${writtenFigure(averageOutgoing)} ${unit} goes on, on average.`;

interface DrawingProps {
  readonly curve: FullCurve;
  readonly width: number;
  readonly at: number | null;
  readonly onAt: (at: number | null) => void;
  readonly says: string;
}

function Drawing({ curve, width, at, onAt, says }: DrawingProps) {
  const drawing = ocDrawing(curve, { width, height: HEIGHT }, FRAME);
  const { x, y } = drawing;
  const read = at === null ? undefined : curve.points[at];
  const nearest = (place: number): number => {
    const quality = x.valueAt(place);
    const beyond = curve.points.findIndex((point) => point.quality >= quality);
    return beyond === -1 ? curve.points.length - 1 : Math.max(0, beyond);
  };
  return (
    <svg
      className="picture"
      width={width}
      height={HEIGHT}
      viewBox={`0 0 ${width} ${HEIGHT}`}
      role="img"
      aria-label={says}
      onPointerMove={(event) => onAt(nearest(event.clientX - event.currentTarget.getBoundingClientRect().left))}
      onPointerLeave={() => onAt(null)}
    >
      <Axes drawing={drawing} width={width} unit={curve.unit} />
      <path className="line" d={drawing.path} />
      {drawing.named.map((point) => (
        <g key={point.label} className="named">
          <path className="lead" d={`M${point.x} ${point.y}L${point.x + 8} ${point.labelY}`} />
          <circle cx={point.x} cy={point.y} r={5} />
          <text x={Math.min(point.labelX, width - FRAME.right - point.label.length * CHAR)} y={point.labelY + 3}>
            {point.label}
          </text>
        </g>
      ))}
      {read === undefined ? null : (
        <g className="reading">
          <path d={`M${x.at(read.quality)} ${HEIGHT - FRAME.bottom}V${y.at(read.acceptance)}H${FRAME.left}`} />
          <circle cx={x.at(read.quality)} cy={y.at(read.acceptance)} r={6} />
        </g>
      )}
    </svg>
  );
}

function Axes({ drawing: { x, y }, width, unit }: { drawing: OcDrawing; width: number; unit: string }) {
  const bottom = HEIGHT - FRAME.bottom;
  const right = width - FRAME.right;
  return (
    <g>
      {y.ticks.map(({ value, at }) => (
        <g key={value}>
          <line className="tick" x1={FRAME.left} x2={right} y1={at} y2={at} />
          <text className="axis" x={FRAME.left - 8} y={at + 4} textAnchor="end">
            {Math.round(value * 100)} %
          </text>
        </g>
      ))}
      {x.ticks.map(({ at, label }) => (
        <g key={label}>
          <line className="tick" x1={at} x2={at} y1={bottom} y2={bottom + 5} />
          <text className="axis" x={at} y={bottom + 20} textAnchor="middle">
            {label}
          </text>
        </g>
      ))}
      <path className="edge" d={`M${FRAME.left} ${FRAME.top}V${bottom}H${right}`} />
      <text className="axis" x={(FRAME.left + right) / 2} y={HEIGHT - 8} textAnchor="middle">
        Quality of what comes in ({unit})
      </text>
      <text className="axis" transform={`translate(14 ${(FRAME.top + bottom) / 2}) rotate(-90)`} textAnchor="middle">
        Lots accepted
      </text>
    </g>
  );
}
