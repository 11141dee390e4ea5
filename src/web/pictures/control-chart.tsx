import { useId } from 'react';
import { type ChartDrawing, type ChartPoint, controlChartDrawing, type Panel, type Shape, shapeOfRule } from './control-chart-layout.js';
import { writtenFigure } from './plot-axis.js';
import { useWidth } from './use-width.js';
import './plot.css';
import './control-chart.css';

const HEIGHT = 280;
const FRAME = { left: 70, right: 150, top: 22, bottom: 46 };

/**
 * One panel of a control chart. What breaks a rule is told by its shape and by the rule's number above it. Pointing at it or moving the
 * slider with the keys chooses a point; the page says what it stands for, and has the table.
 */
export function ControlChartPicture({
  panel,
  title,
  unit,
  chosen,
  onChoose,
  reading,
}: {
  panel: Panel;
  title: string;
  unit: string;
  /** Number of the point that is read. */
  chosen: number | null;
  onChoose: (at: number | null) => void;
  /** What the chosen point says. */
  reading: string;
}) {
  const [box, width] = useWidth<HTMLDivElement>();
  const slider = useId();
  const places = panel.points.map(({ at }) => at);
  const broken = panel.points.filter(({ signals }) => signals.length > 0).length;
  const says = `${title}: ${panel.points.length} points, centre ${writtenFigure(panel.centre)} ${unit}, ${broken} points complete a rule`;
  return (
    <figure className="plot control-chart">
      <div ref={box}>
        {width > 260 && panel.points.length > 0 ? <Drawing {...{ panel, title, unit, width, chosen, onChoose, says }} /> : null}
      </div>
      <div className="plot-reader no-print">
        <label htmlFor={slider}>Read a point of the {title}</label>
        <input
          id={slider}
          type="range"
          min={0}
          max={Math.max(0, places.length - 1)}
          value={chosen === null ? 0 : Math.max(0, places.indexOf(chosen))}
          aria-valuetext={chosen === null ? 'nothing read' : reading}
          onChange={(event) => onChoose(places[Number(event.target.value)] ?? null)}
        />
        <output htmlFor={slider}>{chosen === null ? 'Point at the chart, or move the slider.' : reading}</output>
      </div>
    </figure>
  );
}

interface DrawingProps {
  readonly panel: Panel;
  readonly title: string;
  readonly unit: string;
  readonly width: number;
  readonly chosen: number | null;
  readonly onChoose: (at: number | null) => void;
  readonly says: string;
}

function Drawing({ panel, title, unit, width, chosen, onChoose, says }: DrawingProps) {
  const drawing = controlChartDrawing(panel, { width, height: HEIGHT }, FRAME);
  const nearest = (x: number): number | null =>
    drawing.points.reduce<ChartPoint | null>(
      (best, point) => (best === null || Math.abs(point.x - x) < Math.abs(best.x - x) ? point : best),
      null,
    )?.at ?? null;
  const read = drawing.points.find(({ at }) => at === chosen);
  return (
    <svg
      className="picture"
      width={width}
      height={HEIGHT}
      viewBox={`0 0 ${width} ${HEIGHT}`}
      role="img"
      aria-label={says}
      onPointerMove={(event) => onChoose(nearest(event.clientX - event.currentTarget.getBoundingClientRect().left))}
    >
      <Frame drawing={drawing} width={width} title={title} unit={unit} />
      {drawing.zones.map(({ sigmas, path }) => (
        <path key={sigmas} className="zone" d={path} />
      ))}
      <path className="limit-line" d={drawing.lower} />
      <path className="limit-line" d={drawing.upper} />
      <line className="centre" x1={FRAME.left} x2={width - FRAME.right} y1={drawing.centreY} y2={drawing.centreY} />
      <Words panel={panel} drawing={drawing} width={width} />
      <path className="line" d={drawing.line} />
      {drawing.points.map((point) => (
        <g key={point.at} className={point.shape === 'dot' ? 'point' : 'point broken'}>
          <path d={pathOf(point.shape, point.x, point.y)} />
          {point.signals.length === 0 ? null : (
            <text x={point.x} y={point.y - 11} textAnchor="middle">
              {point.signals.join(', ')}
            </text>
          )}
        </g>
      ))}
      {read === undefined ? null : (
        <g className="reading">
          <path d={`M${read.x} ${HEIGHT - FRAME.bottom}V${FRAME.top}`} />
          <circle cx={read.x} cy={read.y} r={9} />
        </g>
      )}
    </svg>
  );
}

/** A shape around a point: each rule has its own. */
function pathOf(shape: Shape, x: number, y: number): string {
  switch (shape) {
    case 'diamond':
      return `M${x} ${y - 8}l7 8l-7 8l-7 -8z`;
    case 'triangle':
      return `M${x} ${y - 8}l8 14h-16z`;
    case 'square':
      return `M${x - 6} ${y - 6}h12v12h-12z`;
    case 'star':
      return `M${x - 7} ${y - 7}l14 14m0 -14l-14 14M${x} ${y - 9}v18`;
    default:
      return `M${x - 3.5} ${y}a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0 -7 0`;
  }
}

const LINE = 16;

/** The lines by name and number, at the right where the last point's limits end; what would collide goes lower. */
function Words({ panel, drawing, width }: { panel: Panel; drawing: ChartDrawing; width: number }) {
  const last = panel.points.at(-1);
  if (last === undefined) return null;
  let lowest = -Infinity;
  const rows = [
    { says: `upper ${writtenFigure(last.upper)}`, at: drawing.y.at(last.upper) },
    { says: `centre ${writtenFigure(panel.centre)}`, at: drawing.centreY },
    { says: `lower ${writtenFigure(last.lower)}`, at: drawing.y.at(last.lower) },
  ].map((row) => {
    lowest = Math.max(row.at, lowest + LINE);
    return { ...row, y: lowest };
  });
  return (
    <g>
      {rows.map(({ says, y }) => (
        <text key={says} className="axis" x={width - FRAME.right + 8} y={y + 4}>
          {says}
        </text>
      ))}
    </g>
  );
}

/** A shape as it stands on the chart, for the key beside it. */
export function RuleMark({ rule }: { rule: number }) {
  return (
    <svg className="control-chart rule-mark" width="22" height="22" aria-hidden="true">
      <g className="point broken">
        <path d={pathOf(shapeOfRule(rule), 11, 11)} />
      </g>
    </svg>
  );
}

function Frame({ drawing, width, title, unit }: { drawing: ChartDrawing; width: number; title: string; unit: string }) {
  const bottom = HEIGHT - FRAME.bottom;
  const right = width - FRAME.right;
  return (
    <g>
      {drawing.y.ticks.map(({ at, label }) => (
        <g key={label}>
          <line className="tick" x1={FRAME.left - 5} x2={FRAME.left} y1={at} y2={at} />
          <text className="axis" x={FRAME.left - 9} y={at + 4} textAnchor="end">
            {label}
          </text>
        </g>
      ))}
      {drawing.ticks.map(({ at, x }) => (
        <text key={at} className="axis" x={x} y={bottom + 18} textAnchor="middle">
          {at}
        </text>
      ))}
      <path className="edge" d={`M${FRAME.left} ${FRAME.top}V${bottom}H${right}`} />
      <text className="axis" x={(FRAME.left + right) / 2} y={HEIGHT - 8} textAnchor="middle">
        Point, in order of time
      </text>
      <text className="axis" transform={`translate(14 ${(FRAME.top + bottom) / 2}) rotate(-90)`} textAnchor="middle">
        {unit === '' ? title : `${title} (${unit})`}
      </text>
      {drawing.baselineX === null ? null : (
        <g className="baseline">
          <line x1={drawing.baselineX} x2={drawing.baselineX} y1={FRAME.top} y2={bottom} />
          <text className="axis" x={drawing.baselineX - 6} y={FRAME.top - 6} textAnchor="end">
            limits from these
          </text>
        </g>
      )}
    </g>
  );
}
