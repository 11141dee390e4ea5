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
  const placed = points.map((point, i): PlacedBar => {
    const share = room / points.length;
    const height = Math.max(1, heightOf(point.value / (first?.value ?? 1)) * 0.86);
    return { point, middle: SIDE + (i + 0.5) * share, width: share, top: BASE - height, amount: written(point.value) };
  });
  return (
    <figure className="pareto">
      <div ref={box}>
        {width === 0 || first === undefined ? null : (
          <svg
            className="picture"
            width={width}
            height={HEIGHT}
            viewBox={`0 0 ${width} ${HEIGHT}`}
            role="img"
            aria-label={`${label}: ${points.length} bars from the largest down, ${first.code} with ${written(first.value)} first; the table has the numbers`}
          >
            <Frame width={width} />
            {placed.map((bar) => (
              <BarBody key={bar.point.code} {...bar} />
            ))}
            <Line points={points} room={room} />
            {placed.map((bar) => (
              <BarWords key={bar.point.code} {...bar} />
            ))}
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

/** A bar and where it stands. Bars are scaled to the largest, so that few reports of many kinds can be told apart. */
interface PlacedBar {
  readonly point: ParetoPoint;
  readonly middle: number;
  readonly width: number;
  readonly top: number;
  readonly amount: string;
}

function BarBody({ point, middle, width, top, amount }: PlacedBar) {
  const body = Math.min(width - 10, 96);
  return (
    <rect className={`bar${point.vital ? ' vital' : ''}`} x={middle - body / 2} y={top} width={body} height={BASE - top}>
      <title>{`${point.code}: ${amount}, ${writtenShare(point.cumulative)} with those before it`}</title>
    </rect>
  );
}

/** Over the line, so that it never strikes a number out. */
const BarWords = ({ point, middle, width, top, amount }: PlacedBar) => (
  <g>
    <text className="on-bar" x={middle} y={top - 8} textAnchor="middle">
      {cut(amount, width)}
    </text>
    <text className="axis" x={middle} y={BASE + 19} textAnchor="middle">
      {cut(point.code, width - 4)}
    </text>
  </g>
);

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
