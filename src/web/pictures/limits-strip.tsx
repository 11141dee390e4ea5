import { LedgerTable } from '../design/ledger-table.js';
import { limitsStrip, type Measurement } from './limits-strip-layout.js';
import { useWidth } from './use-width.js';
import './limits-strip.css';

const STRIP = { y: 18, height: 26 };
const ROW = 18;
const EDGE = 6;

interface Strip {
  readonly name: string;
  readonly unit: string;
  /** As decimal texts: what stands on the strip is exactly what the record holds. */
  readonly lower: string | null;
  readonly upper: string | null;
  readonly target: string | null;
  /** Readings in the unit of the result; none where the result is computed from something else. */
  readonly readings: readonly string[];
  readonly result: string | null;
  readonly within: boolean | null;
}

const num = (text: string | null): number | null => (text === null ? null : Number(text));

/** A result against its limits: the stretch that is within them, the target, every reading as a mark, the result as a diamond. */
export function LimitsStripPicture(strip: Strip) {
  const { name, unit, lower, upper, target, readings, result, within } = strip;
  const [box, width] = useWidth<HTMLDivElement>();
  const measurement: Measurement = {
    lower: num(lower),
    upper: num(upper),
    target: num(target),
    readings: readings.map(Number),
    result: num(result),
  };
  return (
    <figure className="limits-strip">
      <div ref={box}>
        {width > 60 ? <Drawing width={width} measurement={measurement} says={saysOf(strip)} outside={within === false} /> : null}
      </div>
      <details className="same-table">
        <summary>The same as a table</summary>
        <LedgerTable
          caption={`${name} against its limits, in ${unit}`}
          rows={rowsOf(strip)}
          rowKey={({ what }) => what}
          columns={[
            { head: 'What', cell: ({ what }) => what },
            { head: `Value (${unit})`, num: true, cell: ({ value }) => value },
          ]}
        />
      </details>
    </figure>
  );
}

function rowsOf({ lower, upper, target, readings, result, within }: Strip): { what: string; value: string }[] {
  const row = (what: string, value: string | null) => (value === null ? [] : [{ what, value }]);
  return [
    ...row('Lower limit', lower),
    ...row('Target', target),
    ...row('Upper limit', upper),
    ...readings.map((value, at) => ({ what: `Reading ${at + 1}`, value })),
    ...row(within === false ? 'Result, outside its limits' : 'Result, within its limits', result),
  ];
}

function saysOf({ name, unit, lower, upper, result, within }: Strip): string {
  const limits = [lower === null ? '' : `from ${lower}`, upper === null ? '' : `to ${upper}`].filter(Boolean).join(' ');
  const found = result === null ? 'no result yet' : `${result} ${unit}, ${within ? 'within' : 'outside'} its limits`;
  return `${name}: ${found}; limits ${limits || 'none'} ${unit}`;
}

function Drawing({ width, measurement, says, outside }: { width: number; measurement: Measurement; says: string; outside: boolean }) {
  const strip = limitsStrip(measurement, width - 2 * EDGE);
  const height = STRIP.y + STRIP.height + 6 + strip.rows * ROW;
  const bottom = STRIP.y + STRIP.height;
  const middle = STRIP.y + STRIP.height / 2;
  return (
    <svg className="picture" width={width} height={height} viewBox={`${-EDGE} 0 ${width} ${height}`} role="img" aria-label={says}>
      <rect className="outside" y={STRIP.y} width={width - 2 * EDGE} height={STRIP.height} />
      <rect className="within" x={strip.within.x} y={STRIP.y} width={strip.within.width} height={STRIP.height} />
      {strip.lines.map(({ kind, x, label, row, anchor }) => (
        <g key={kind} className={kind}>
          <line x1={x} x2={x} y1={STRIP.y - 4} y2={bottom + 4 + row * ROW} />
          <text className="axis" x={x} y={bottom + 18 + row * ROW} textAnchor={anchor}>
            {label}
          </text>
        </g>
      ))}
      {strip.readings.map((x, at) => (
        // Readings have no name but their place.
        // oxlint-disable-next-line react/no-array-index-key
        <circle key={at} className="reading" cx={x} cy={middle} r={5} />
      ))}
      {strip.result === null ? null : (
        <g className={outside ? 'result outside-limits' : 'result'}>
          <path d={`M${strip.result} ${STRIP.y - 12}l9 9l-9 9l-9 -9z`} />
          <line x1={strip.result} x2={strip.result} y1={STRIP.y + 6} y2={bottom} />
        </g>
      )}
    </svg>
  );
}
