import { writtenCount } from '../../../shared/written.js';
import { LedgerTable } from '../design/ledger-table.js';
import { useWidth } from './use-width.js';
import './ageing-bars.css';

const BAR_WIDTH = 76;

/** An age as a small bar beside its number: long ones stand out when one looks down a list. `of` is the longest of the list. */
export function AgeBar({ days, of, says }: { days: number; of: number; says: string }) {
  return (
    <span className="age-bar">
      <span>{says}</span>
      <svg width={BAR_WIDTH} height="6" aria-hidden="true">
        <rect className="ground" width={BAR_WIDTH} height="6" />
        <rect className="age" width={Math.max(2, (days / Math.max(1, of)) * BAR_WIDTH)} height="6" />
      </svg>
    </span>
  );
}

/** Open reports in one state, by how long ago they were raised. */
interface AgeRow {
  readonly label: string;
  /** In the order of `BUCKETS`. */
  readonly counts: readonly [number, number, number, number];
}

const BUCKETS = ['up to 7 days', '8 to 30 days', '31 to 90 days', 'over 90 days'] as const;
const LABEL_ROOM = 130;
const TOTAL_ROOM = 40;
const ROW = 34;
const FIGURE_ROOM = 18;

/** A bar a state: as long as it has open reports, darker the older they are, with the numbers on it and the same as a table. */
export function AgeingBars({ rows, caption }: { rows: readonly AgeRow[]; caption: string }) {
  const [box, width] = useWidth<HTMLDivElement>();
  const totals = rows.map(({ counts }) => counts.reduce((sum, count) => sum + count, 0));
  const most = Math.max(1, ...totals);
  const room = Math.max(60, width - LABEL_ROOM - TOTAL_ROOM);
  const all = totals.reduce((sum, total) => sum + total, 0);
  return (
    <figure className="ageing">
      <ul className="key" aria-hidden="true">
        {BUCKETS.map((bucket, i) => (
          <li key={bucket}>
            <svg width="14" height="14">
              <rect className={`bucket-${i}`} width="14" height="14" />
            </svg>
            {bucket}
          </li>
        ))}
      </ul>
      <div ref={box}>
        {width === 0 ? null : (
          <svg
            className="picture"
            width={width}
            height={rows.length * ROW}
            viewBox={`0 0 ${width} ${rows.length * ROW}`}
            role="img"
            aria-label={`${caption}: ${writtenCount(all)} in all; the table has the numbers`}
          >
            {rows.map((row, i) => (
              <Row key={row.label} row={row} total={totals[i] ?? 0} y={i * ROW} unit={room / most} />
            ))}
          </svg>
        )}
      </div>
      <LedgerTable
        caption={caption}
        rows={rows.map((row, i) => ({ ...row, total: totals[i] ?? 0 }))}
        rowKey={({ label }) => label}
        columns={[
          { head: 'State', cell: ({ label }) => label },
          ...BUCKETS.map((bucket, i) => ({ head: bucket, num: true, cell: ({ counts }: AgeRow) => writtenCount(counts[i] ?? 0) })),
          { head: 'In all', num: true, cell: ({ total }) => writtenCount(total) },
        ]}
      />
    </figure>
  );
}

function Row({ row, total, y, unit }: { row: AgeRow; total: number; y: number; unit: number }) {
  const before = (i: number): number => row.counts.slice(0, i).reduce((sum, count) => sum + count, 0);
  const middle = y + ROW / 2 + 5;
  return (
    <g>
      <text className="axis" x={LABEL_ROOM - 12} y={middle} textAnchor="end">
        {row.label}
      </text>
      {row.counts.map((count, i) => {
        const at = LABEL_ROOM + before(i) * unit;
        const length = count * unit;
        return count === 0 ? null : (
          <g key={BUCKETS[i]}>
            <rect className={`bucket-${i}`} x={at} y={y + 4} width={length} height={ROW - 8} />
            {length < FIGURE_ROOM ? null : (
              <text className={`on${i > 1 ? ' on-dark' : ''}`} x={at + length / 2} y={middle} textAnchor="middle">
                {count}
              </text>
            )}
          </g>
        );
      })}
      <text x={LABEL_ROOM + total * unit + 8} y={middle}>
        {writtenCount(total)}
      </text>
    </g>
  );
}
