import type { ReactNode } from 'react';

export interface Column<Row> {
  readonly head: string;
  readonly cell: (row: Row) => ReactNode;
  /** Figures: set right, in figures of one width. */
  readonly num?: boolean;
  /** Kept in one line where the page is wide enough: times. */
  readonly whole?: boolean;
}

/** A table that reads like a ledger page. The caption says what it lists, for those who come to it by ear. */
export function LedgerTable<Row>({
  caption,
  columns,
  rows,
  rowKey,
  rowClass,
  onRow,
  empty,
}: {
  caption: string;
  columns: readonly Column<Row>[];
  rows: readonly Row[];
  rowKey: (row: Row) => string;
  rowClass?: (row: Row) => string | undefined;
  /** Pointer or focus came to a row; null when it left. For pictures that show the same row. */
  onRow?: (row: Row | null) => void;
  /** What stands here when there are no rows. */
  empty?: ReactNode;
}) {
  if (rows.length === 0 && empty !== undefined) return <>{empty}</>;
  return (
    // What scrolls sideways must be reachable by keyboard; no landmark, as the section around it is one.
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex
    <div className="table-room" role="group" aria-label={caption} tabIndex={0}>
      <table>
        <caption className="hidden-but-read">{caption}</caption>
        <thead>
          <tr>
            {columns.map(({ head, num }) => (
              <th key={head} scope="col" className={num ? 'num' : undefined}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr
              key={rowKey(row)}
              className={rowClass?.(row)}
              onPointerEnter={onRow && (() => onRow(row))}
              onPointerLeave={onRow && (() => onRow(null))}
              onFocus={onRow && (() => onRow(row))}
              onBlur={onRow && (() => onRow(null))}
            >
              {columns.map(({ head, cell, num, whole }) => (
                <td key={head} className={num ? 'num' : whole ? 'whole' : undefined}>
                  {cell(row)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
