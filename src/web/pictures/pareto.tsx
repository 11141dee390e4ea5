import { writtenShare } from '../../../shared/written.js';
import { type ParetoBar, type ParetoPoint, paretoPoints } from './pareto-points.js';
import { useWidth } from './use-width.js';
import './pareto.css';

const HEIGHT = 300;
const TOP = 26;
const FOOT = 46;
const SIDE = 46;
const CHAR = 7.4;
const NARROWEST = 58;

/** The picture's bars, and beside it what is told as a table: the caller's own, for it knows what else each row says. */
export function Pareto({
  bars,
  label,
  written,
  children,
}: {
  bars: readonly ParetoBar[];
  /** What is counted, as `Reports by defect`. */
  label: string;
  written: (value: number) => string;
  /** The same as a table. */
  children: React.ReactNode;
}) {
  const [box, width] = useWidth<HTMLDivElement>();
  const room = Math.max(0, width - 2 * SIDE);
  const points = paretoPoints(bars, Math.max(2, Math.floor(room / NARROWEST)));
  const first = points[0];
  return (
    <figure className="pareto">
      <div ref={box}>
        {width === 0 || first === undefined ? null : (
          <svg
            className="picture"
            width={width}
            height={HEIGHT}
            role="img"
            aria-label={`${label}: ${points.length} bars from the largest down, ${first.code} with ${written(first.value)} first; the table has the numbers`}
          >
            <Frame width={width} />
            {points.map((point, i) => (
              <Bar
                key={point.code}
                point={point}
                x={SIDE + (i * room) / points.length}
                width={room / points.length}
                most={first.value}
                written={written}
              />
            ))}
            <Line points={points} room={room} />
          </svg>
        )}
      </div>
      {children}
    </figure>
  );
}

const BASE = HEIGHT - FOOT;
const heightOf = (share: number): number => share * (BASE - TOP);

/** Shares on the right; the line at four fifths, where the few that matter most end. */
const Frame = ({ width }: { width: number }) => (
  <g>
    {[0.2, 0.4, 0.6, 0.8, 1].map((share) => (
      <g key={share}>
        <line
          className={share === 0.8 ? 'eighty' : 'tick'}
          x1={SIDE}
          x2={width - SIDE}
          y1={BASE - heightOf(share)}
          y2={BASE - heightOf(share)}
        />
        <text className="axis share" x={width - SIDE + 8} y={BASE - heightOf(share) + 5}>
          {writtenShare(share)}
        </text>
      </g>
    ))}
    <line className="ground" x1={SIDE} x2={width - SIDE} y1={BASE} y2={BASE} />
  </g>
);

const cut = (text: string, width: number): string => {
  const fit = Math.floor(width / CHAR);
  return text.length <= fit ? text : `${text.slice(0, Math.max(1, fit - 1))}…`;
};

interface BarProps {
  readonly point: ParetoPoint;
  readonly x: number;
  readonly width: number;
  readonly most: number;
  readonly written: (value: number) => string;
}

/** Bars are scaled to the largest, so that few reports of many kinds can be told apart. */
function Bar({ point, x, width, most, written }: BarProps) {
  const height = Math.max(1, heightOf(point.value / most) * 0.86);
  const middle = x + width / 2;
  const body = Math.min(width - 10, 96);
  return (
    <g>
      <title>{`${point.code}: ${written(point.value)}, ${writtenShare(point.cumulative)} with those before it`}</title>
      <rect className={`bar${point.vital ? ' vital' : ''}`} x={middle - body / 2} y={BASE - height} width={body} height={height} />
      <text x={middle} y={BASE - height - 7} textAnchor="middle">
        {cut(written(point.value), width)}
      </text>
      <text className="axis" x={middle} y={BASE + 19} textAnchor="middle">
        {cut(point.code, width - 4)}
      </text>
    </g>
  );
}

function Line({ points, room }: { points: readonly ParetoPoint[]; room: number }) {
  const at = points.map(({ cumulative }, i) => [SIDE + ((i + 0.5) * room) / points.length, BASE - heightOf(cumulative)] as const);
  return (
    <g aria-hidden="true">
      <path className="cumulative" d={`M${at.map(([x, y]) => `${x} ${y}`).join('L')}`} />
      {at.map(([x, y]) => (
        <circle key={x} className="point" cx={x} cy={y} r="4" />
      ))}
    </g>
  );
}
