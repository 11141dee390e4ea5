import { useVirtualizer } from '@tanstack/react-virtual';
import { type KeyboardEvent, useEffect, useRef, useState } from 'react';
import { useItems } from '../design/choices.js';
import { HEADS, LotRow } from './lot-row.js';
import type { LotRows } from './use-lot-rows.js';

const ROW_PX = 64;
const AHEAD = 12;

/**
 * Lots as a table of any length: only the rows in view are in the page, and each says which of how many it is. Arrow keys, Page Up and
 * Down, Home and End go from row to row, Enter opens the lot.
 */
export function LotList({ lots }: { lots: LotRows }) {
  const scroller = useRef<HTMLDivElement>(null);
  const items = useItems();
  const total = lots.total ?? 0;
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
  const last = shown.at(-1)?.index ?? 0;
  const { want } = lots;
  useEffect(() => want(Math.min(last + AHEAD, total - 1)));
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
    <div className="lot-list" role="table" aria-label="Lots, by code" aria-rowcount={total + 1}>
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
            const row = lots.rows[index];
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
                  <LotRow
                    row={row}
                    name={items.find(({ code }) => code === row.item)?.says ?? ''}
                    tabIndex={index === at ? 0 : -1}
                    onFocus={() => setAt(index)}
                  />
                )}
              </div>
            );
          })}
        </div>
      </div>
    </div>
  );
}
