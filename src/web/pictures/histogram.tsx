import { LedgerTable } from '../design/ledger-table.js';
import { binsOf, histogramDrawing } from './histogram-layout.js';
import { writtenFigure } from './plot-axis.js';
import { useWidth } from './use-width.js';
import './plot.css';
import './control-chart.css';

const HEIGHT = 240;
const FRAME = { left: 56, right: 16, top: 26, bottom: 48 };

/** How values are spread, with the limits they are held against. The table says the same. */
export function HistogramPicture({
  values,
  lower,
  upper,
  name,
  unit,
}: {
  values: readonly number[];
  lower: number | null;
  upper: number | null;
  name: string;
  unit: string;
}) {
  const [box, width] = useWidth<HTMLDivElement>();
  const bins = binsOf(values);
  if (bins.length === 0) return null;
  const outside = values.filter((value) => (lower !== null && value < lower) || (upper !== null && value > upper)).length;
  const says = `${name}: ${values.length} values from ${writtenFigure(Math.min(...values))} to ${writtenFigure(Math.max(...values))} ${unit}, ${outside} outside the limits`;
  return (
    <figure className="plot histogram">
      <div ref={box}>{width > 200 ? <Drawing {...{ bins, lower, upper, name, unit, width, says }} /> : null}</div>
      <details className="same-table">
        <summary>The same as a table</summary>
        <LedgerTable
          caption={name}
          rows={bins}
          rowKey={({ from }) => `${from}`}
          columns={[
            { head: `From (${unit})`, num: true, cell: ({ from }) => writtenFigure(from, 6) },
            { head: `To below (${unit})`, num: true, cell: ({ to }) => writtenFigure(to, 6) },
            { head: 'Values', num: true, cell: ({ count }) => count },
          ]}
        />
      </details>
    </figure>
  );
}

interface DrawingProps {
  readonly bins: ReturnType<typeof binsOf>;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly name: string;
  readonly unit: string;
  readonly width: number;
  readonly says: string;
}

function Drawing({ bins, lower, upper, name, unit, width, says }: DrawingProps) {
  const limits = [
    { says: 'lower limit', value: lower },
    { says: 'upper limit', value: upper },
  ].flatMap(({ says: words, value }) => (value === null ? [] : [{ words, value }]));
  const { x, y, bars } = histogramDrawing(
    bins,
    limits.map(({ value }) => value),
    { width, height: HEIGHT },
    FRAME,
  );
  const bottom = HEIGHT - FRAME.bottom;
  return (
    <svg className="picture" width={width} height={HEIGHT} viewBox={`0 0 ${width} ${HEIGHT}`} role="img" aria-label={says}>
      {y.ticks.map(({ at, label }) => (
        <g key={label}>
          <line className="tick" x1={FRAME.left} x2={width - FRAME.right} y1={at} y2={at} />
          <text className="axis" x={FRAME.left - 8} y={at + 4} textAnchor="end">
            {label}
          </text>
        </g>
      ))}
      {bars.map((bar) => (
        <rect key={bar.bin.from} x={bar.x} y={bar.y} width={Math.max(1, bar.width)} height={bar.height} />
      ))}
      {x.ticks.map(({ at, label }) => (
        <text key={label} className="axis" x={at} y={bottom + 18} textAnchor="middle">
          {label}
        </text>
      ))}
      {limits.map(({ words, value }) => (
        <g key={words}>
          <line className="limit-line" x1={x.at(value)} x2={x.at(value)} y1={FRAME.top - 8} y2={bottom} />
          <text className="axis" x={x.at(value)} y={FRAME.top - 12} textAnchor={words === 'lower limit' ? 'start' : 'end'}>
            {words} {`${value}`.replace('-', '−')}
          </text>
        </g>
      ))}
      <path className="edge" d={`M${FRAME.left} ${FRAME.top}V${bottom}H${width - FRAME.right}`} />
      <text className="axis" x={(FRAME.left + width - FRAME.right) / 2} y={HEIGHT - 8} textAnchor="middle">
        {unit === '' ? name : `${name} (${unit})`}
      </text>
      <text className="axis" transform={`translate(14 ${(FRAME.top + bottom) / 2}) rotate(-90)`} textAnchor="middle">
        How many
      </text>
    </svg>
  );
}
