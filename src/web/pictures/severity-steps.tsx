import { useWidth } from './use-width.js';

/** The level of each severity, strictest on top. */
const LEVELS = ['discontinued', 'tightened', 'normal', 'reduced'] as const;
type Severity = (typeof LEVELS)[number];

interface Step {
  readonly seq: number;
  readonly after: Severity;
  readonly verdict: 'accepted' | 'not-accepted' | null;
}

const TOP = 24;
const RISE = 26;
const LEFT = 110;

/** The severity step by step, with what each lot did to it. The table beside it tells the same with the reasons. */
export function SeveritySteps({ name, steps }: { name: string; steps: readonly Step[] }) {
  const [box, width] = useWidth<HTMLDivElement>();
  const run = (width - LEFT - 16) / Math.max(8, steps.length);
  const y = (severity: Severity): number => TOP + 8 + RISE * LEVELS.indexOf(severity);
  const height = TOP + RISE * LEVELS.length + 6;
  const tread = steps
    .map(({ after }, at) => `${at === 0 ? 'M' : 'V'}${at === 0 ? `${LEFT} ${y(after)}` : y(after)}H${LEFT + run * (at + 1)}`)
    .join('');
  const counts = steps.filter(({ verdict }) => verdict === 'not-accepted').length;
  return (
    <div ref={box} className="staircase">
      {width < 200 || steps.length === 0 ? null : (
        <svg
          className="picture"
          width={width}
          height={height}
          role="img"
          aria-label={`${name}: ${steps.length} steps, ${counts} lots not accepted, ${steps.at(-1)?.after} now`}
        >
          <text x={0} y={14}>
            {name}
          </text>
          {LEVELS.map((severity) => (
            <g key={severity}>
              <line className="tick" x1={LEFT} x2={width - 8} y1={y(severity)} y2={y(severity)} />
              <text className="axis" x={LEFT - 10} y={y(severity) + 5} textAnchor="end">
                {severity}
              </text>
            </g>
          ))}
          <path className="tread" d={tread} />
          {steps.map((step, at) => (
            <Mark key={step.seq} step={step} x={LEFT + run * (at + 0.5)} y={y(step.after)} />
          ))}
        </svg>
      )}
    </div>
  );
}

/** A dot for a lot accepted, a cross for one not accepted, a square for a decision. */
function Mark({ step: { verdict }, x, y }: { step: Step; x: number; y: number }) {
  if (verdict === 'accepted') return <circle className="accepted" cx={x} cy={y} r={4.5} />;
  if (verdict === 'not-accepted') return <path className="not-accepted" d={`M${x - 5} ${y - 5}l10 10m0 -10l-10 10`} />;
  return <rect className="decided" x={x - 5} y={y - 5} width={10} height={10} />;
}
