import { useVirtualizer } from '@tanstack/react-virtual';
import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from 'react';
import { useItems } from '../design/choices.js';
import type { LotFilters } from './lot-filters.js';
import { HEADS, LotRow } from './lot-row.js';
import { useLotsAt } from './use-lot-rows.js';

const ROW_PX = 64;
const AHEAD = 6;

/**
 * Lots as a table of any length: only the rows in view are in the page, and each says which of how many it is. Arrow keys, Page Up and
 * Down, Home and End go from row to row, Enter opens the lot.
 */
export function LotList({ filters, total }: { filters: LotFilters; total: number }) {
  const scroller = useRef<HTMLDivElement>(null);
  const items = useItems();
  const names = useMemo(() => new Map(items.map(({ code, says }) => [code, says])), [items]);
  const [at, setAt] = useState(0);
  const goTo = useRef<number | null>(null);
  // What it returns is used in this component only, which nothing memoizes.
  // oxlint-disable-next-line react/incompatible-library
  const virtual = useVirtualizer({
    count: total,
    getScrollElement: () => scroller.current,
    estimateSize: () => ROW_PX,
    overscan: AHEAD,
  });
  const shown = virtual.getVirtualItems();
  const rowAt = useLotsAt(filters, shown[0]?.index ?? 0, shown.at(-1)?.index ?? 0);
  useEffect(() => {
    if (goTo.current === null) return;
    const link = scroller.current?.querySelector<HTMLElement>(`[data-index="${goTo.current}"] a`);
    if (!link) return;
    goTo.current = null;
    link.focus({ preventScroll: true });
  });

  function move(event: KeyboardEvent): void {
    const page = Math.max(1, Math.floor((scroller.current?.clientHeight ?? ROW_PX) / ROW_PX) - 2);
    const steps: Readonly<Record<string, number>> = {
      ArrowDown: 1,
      ArrowUp: -1,
      PageDown: page,
      PageUp: -page,
      Home: -total,
      End: total,
    };
    const step = steps[event.key];
    if (step === undefined || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    const next = Math.max(0, Math.min(total - 1, at + step));
    goTo.current = next;
    setAt(next);
    virtual.scrollToIndex(next);
  }
  return (
    <div className="lot-list" role="table" aria-label="Lots" aria-rowcount={total + 1}>
      <div role="rowgroup">
        <div role="row" aria-rowindex={1} className="lot-row lot-head">
          {HEADS.map(({ head, num }) => (
            <div key={head} role="columnheader" className={num ? 'num' : undefined}>
              {head}
            </div>
          ))}
        </div>
      </div>
      {/* Rows are gone to by key; the pointer only scrolls. */}
      {/* oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions */}
      <div className="lot-scroll" role="rowgroup" ref={scroller} onKeyDown={move}>
        <div role="presentation" style={{ height: virtual.getTotalSize(), position: 'relative' }}>
          {shown.map(({ index, start }) => {
            const row = rowAt(index);
            return (
              <div
                key={index}
                role="row"
                aria-rowindex={index + 2}
                data-index={index}
                className="lot-row"
                style={{ transform: `translateY(${start}px)`, height: ROW_PX }}
              >
                {row === undefined ? (
                  <div role="cell" className="quiet">
                    Reading …
                  </div>
                ) : (
                  <LotRow row={row} name={names.get(row.item) ?? ''} tabIndex={index === at ? 0 : -1} place={index} onFocus={setAt} />
                )}
              </div>
            );
          })}
        </div>
      </div>
    </div>
  );
}
