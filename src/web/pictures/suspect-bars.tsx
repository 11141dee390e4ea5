import type { SuspectGroup, SuspectOdds } from '../../../shared/api/suspects.js';
import { writtenShare } from '../../../shared/written.js';
import { fitText, TEXT_FONT } from './fit-text.js';
import { useFonts } from './use-fonts.js';
import { useWidth } from './use-width.js';
import './suspect-bars.css';

const ROW = 44;
const TOP = 34;
const BAR = 12;
const GAP = 44;
/** Room for half the last figure of the axis. */
const EDGE = 30;

/** Odds from a hundredth to a thousandfold are drawn; what is beyond goes to the edge. */
const [LEAST, MOST] = [0.1, 1000];
const DECADES = [0.1, 1, 10, 100, 1000];

interface Panels {
  readonly names: number;
  readonly bars: { readonly x: number; readonly width: number };
  readonly odds: { readonly x: number; readonly width: number };
}

function panelsOf(width: number): Panels {
  const names = Math.min(330, width * 0.34);
  const bars = { x: names + GAP, width: (width - names - 2 * GAP) * 0.55 };
  return { names, bars, odds: { x: bars.x + bars.width + GAP, width: (width - names - 2 * GAP) * 0.45 - EDGE } };
}

/** Where odds stand between the edges, in equal steps for equal factors. */
function oddsPart(value: number): number {
  const held = Math.min(MOST, Math.max(LEAST, value));
  return Math.log(held / LEAST) / Math.log(MOST / LEAST);
}

/**
 * Of each suspect, which part of the failed and which of the sound pieces was exposed, and how many times as high that makes the odds of
 * failing, with the interval. The table beside it says the same.
 */
export function SuspectBars({
  groups,
  failed,
  sound,
  nameOf,
}: {
  groups: readonly SuspectGroup[];
  failed: number;
  sound: number;
  nameOf: (group: SuspectGroup) => string;
}) {
  const [room, width] = useWidth<HTMLDivElement>();
  useFonts();
  const height = TOP + groups.length * ROW + 6;
  return (
    <div className="suspect-bars" ref={room}>
      {width === 0 ? null : (
        <svg
          className="picture"
          width={width}
          height={height}
          viewBox={`0 0 ${width} ${height}`}
          role="img"
          aria-label={`Bars of the ${groups.length} first suspects: the part of the failed and of the sound pieces exposed to each. The table below says the same.`}
        >
          <Axes panels={panelsOf(width)} height={height} />
          {groups.map((group, i) => (
            <Row
              key={`${group.rank} ${nameOf(group)}`}
              panels={panelsOf(width)}
              y={TOP + i * ROW}
              name={nameOf(group)}
              group={group}
              failed={failed === 0 ? 0 : group.exposedFailed / failed}
              sound={sound === 0 ? 0 : group.exposedSound / sound}
            />
          ))}
        </svg>
      )}
      <p className="river-legend">
        <span className="key affected" aria-hidden="true" /> of the failed <span className="key" aria-hidden="true" /> of the sound · Right:
        how many times as high the odds of failing are, with the 95 % interval; 1 is no difference.
      </p>
    </div>
  );
}

function Axes({ panels: { bars, odds }, height }: { panels: Panels; height: number }) {
  return (
    <g>
      {[0, 0.5, 1].map((part) => (
        <g key={part}>
          <line className="tick" x1={bars.x + part * bars.width} x2={bars.x + part * bars.width} y1={TOP - 8} y2={height} />
          <text className="axis" x={bars.x + part * bars.width} y={TOP - 14} textAnchor="middle">
            {part * 100} %
          </text>
        </g>
      ))}
      {DECADES.map((value) => {
        const x = odds.x + oddsPart(value) * odds.width;
        return (
          <g key={value}>
            <line className={value === 1 ? 'even' : 'tick'} x1={x} x2={x} y1={TOP - 8} y2={height} />
            <text className="axis" x={x} y={TOP - 14} textAnchor="middle">
              {value === 1000 ? '×1000' : `×${value}`}
            </text>
          </g>
        );
      })}
    </g>
  );
}

function Row({
  panels: { names, bars, odds },
  y,
  name,
  group,
  failed,
  sound,
}: {
  panels: Panels;
  y: number;
  name: string;
  group: SuspectGroup;
  failed: number;
  sound: number;
}) {
  const middle = y + ROW / 2;
  const text = `${group.rank}. ${name}`;
  return (
    <g className={group.beyondChance ? 'suspect beyond' : 'suspect'}>
      <title>{`${text}: ${writtenShare(failed)} of the failed, ${writtenShare(sound)} of the sound`}</title>
      <line className="tick" x1={0} x2={odds.x + odds.width + EDGE} y1={y} y2={y} />
      <text className="name" x={0} y={middle + 5}>
        {fitText(text, names, TEXT_FONT)}
      </text>
      <rect className="failed" x={bars.x} y={middle - BAR - 1} width={Math.max(1, failed * bars.width)} height={BAR} />
      <rect className="sound" x={bars.x} y={middle + 1} width={Math.max(1, sound * bars.width)} height={BAR} />
      <Interval odds={group.odds} x={odds.x} width={odds.width} y={middle} />
    </g>
  );
}

/** A line from end to end with a point where the estimate is; without an end, an arrow says so. */
function Interval({ odds: { estimate, lower, upper }, x, width, y }: { odds: SuspectOdds; x: number; width: number; y: number }) {
  const [from, to] = [x + oddsPart(lower) * width, x + oddsPart(upper ?? MOST) * width];
  return (
    <g className="interval">
      <line x1={from} x2={to} y1={y} y2={y} />
      {lower <= LEAST ? null : <line x1={from} x2={from} y1={y - 6} y2={y + 6} />}
      {upper === null || upper > MOST ? <path d={`M${to - 2},${y - 6}l9,6l-9,6`} /> : <line x1={to} x2={to} y1={y - 6} y2={y + 6} />}
      {estimate === null ? null : <circle cx={x + oddsPart(estimate) * width} cy={y} r={5} />}
    </g>
  );
}
