import { type KeyboardEvent, useEffect, useId, useRef, useState } from 'react';
import type { Ribbon, RibbonInput } from '../../../shared/ribbon-layout.js';
import { xOfEdge } from '../../../shared/ribbon-scale.js';
import type { Span, SpanSet } from '../../../shared/spans.js';
import { unionSpans } from '../../../shared/spans.js';
import { writtenCount } from '../../../shared/written.js';
import { atSpot, hullOf, reaching, segmentAt, type Spot, spotOf, stepTo } from './ribbon-parts.js';
import { RibbonRowDrawing } from './ribbon-row.js';
import { useRibbonPointer } from './use-ribbon-pointer.js';

const LABEL_GAP = 10;
/** Nearer to an end of the ruler than this, a figure in the middle of its tick would stand out beyond it. */
const END = 20;

export interface DrawingProps {
  readonly ribbon: Ribbon;
  readonly input: RibbonInput;
  readonly label: string;
  readonly range: Span;
  readonly selection: SpanSet;
  readonly onSelect: ((spans: SpanSet) => void) | undefined;
  readonly marked: string | null;
  readonly onPoint: (spot: Spot | null) => void;
  /** Focus came to a part. */
  readonly onGoTo: (spot: Spot) => void;
  readonly onZoom: (factor: number, around?: number) => void;
  readonly onWhole: () => void;
  /** Brings a piece into the picture. */
  readonly onShow: (piece: number) => void;
}

/** The ribbon as it is drawn: a grid whose cells arrow keys lead through, with the selection over it. */
export function RibbonDrawing(props: DrawingProps) {
  const { ribbon, label, range, selection, onSelect, marked, onGoTo } = props;
  const id = useId();
  const svg = useRef<SVGSVGElement>(null);
  const [spot, setSpot] = useState<Spot>(() => ({ row: ribbon.rows.findIndex(({ side }) => side === 'bar'), piece: range[0] }));
  const moved = useRef(false);
  useEffect(() => {
    if (!moved.current) return;
    moved.current = false;
    svg.current?.querySelector<SVGElement>('[role="gridcell"][tabindex="0"]')?.focus();
  });
  const keys = useKeys(props, spot, (next) => {
    moved.current = true;
    setSpot(next);
  });
  const pointer = useRibbonPointer(svg, props, setSpot);
  const labelRoom = ribbon.scale.knots[0]?.x ?? 0;
  const gap = (ribbon.rows[1]?.y ?? 0) - (ribbon.rows[0]?.y ?? 0) - (ribbon.rows[0]?.height ?? 0);
  return (
    <svg
      ref={svg}
      className={`picture${onSelect ? ' selects' : ''}`}
      width={ribbon.width}
      height={ribbon.height}
      viewBox={`0 0 ${ribbon.width} ${ribbon.height}`}
      role="grid"
      tabIndex={-1}
      aria-label={`${label}: where its pieces went, and what they were made of`}
      aria-multiselectable={onSelect ? true : undefined}
      onKeyDown={keys}
      onFocus={(event) => {
        const at = spotOf(event.target);
        if (at === null) return;
        setSpot(at);
        onGoTo(at);
      }}
      {...pointer}
    >
      <Patterns id={id} />
      <g aria-hidden="true">
        {ribbon.ticks.map(({ piece, x }) => (
          <g key={piece}>
            <line className="tick" x1={x} x2={x} y1={16} y2={ribbon.height} />
            <text className="axis" x={x} y={11} textAnchor={x - labelRoom < END ? 'start' : ribbon.width - x < 2 * END ? 'end' : 'middle'}>
              {writtenCount(piece)}
            </text>
          </g>
        ))}
      </g>
      {ribbon.rows.map((row, index) => (
        <RibbonRowDrawing
          // A row has no name of its own: two lanes of a strip differ by their place only.
          // oxlint-disable-next-line react/no-array-index-key
          key={`${row.side} ${row.label} ${row.lane} ${index}`}
          row={row}
          index={index}
          labelRoom={labelRoom}
          gap={gap}
          focusable={index === spot.row ? segmentAt(row, spot.piece) : -1}
          marked={marked}
          id={id}
          selection={onSelect ? selection : null}
        />
      ))}
      <Selected ribbon={ribbon} range={range} selection={selection} />
    </svg>
  );
}

function Selected({ ribbon, range: [from, to], selection }: Pick<DrawingProps, 'ribbon' | 'range' | 'selection'>) {
  const shown = selection.filter(([first, last]) => last >= from && first <= to);
  const top = (ribbon.rows[0]?.y ?? 0) - LABEL_GAP / 2;
  return (
    <g className="selected" aria-hidden="true">
      {shown.map(([first, last]) => {
        const x = xOfEdge(ribbon.scale, first - 1);
        return <rect key={first} x={x} width={Math.max(2, xOfEdge(ribbon.scale, last) - x)} y={top} height={ribbon.height - top - 1} />;
      })}
    </g>
  );
}

/** Hatching tells nonconforming and scrapped pieces from others without colour. */
function Patterns({ id }: { id: string }) {
  return (
    <defs>
      <pattern id={`${id}-hatch`} className="hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <line x1="0" y1="0" x2="0" y2="7" />
      </pattern>
      <pattern id={`${id}-cross`} className="cross" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <path d="M0 0V8M0 0H8" />
      </pattern>
    </defs>
  );
}

/** What the keys do: arrows go from part to part, Shift selects on the way, Enter selects, + and − come nearer and go farther. */
function useKeys(props: DrawingProps, spot: Spot, go: (spot: Spot) => void): (event: KeyboardEvent) => void {
  const { ribbon, input, selection, onSelect, onZoom, onWhole, onShow } = props;
  const anchor = useRef<Span | null>(null);
  const runAt = (at: Spot): Span | null => atSpot(input, ribbon, at)?.run ?? null;

  function select(event: KeyboardEvent): void {
    const run = runAt(spot);
    if (run === null) return;
    anchor.current = run;
    onSelect?.(event.ctrlKey || event.metaKey ? unionSpans(selection, [run]) : [run]);
  }
  function step(event: KeyboardEvent): boolean {
    const next = stepTo(ribbon, spot, event.key, input.pieces);
    if (next === null) return false;
    onShow(next.piece);
    go(next);
    if (!event.shiftKey || !onSelect) {
      anchor.current = null;
      return true;
    }
    anchor.current ??= hullOf(selection) ?? runAt(spot);
    const inView = next.piece >= props.range[0] && next.piece <= props.range[1];
    const run: Span | null = inView ? runAt(next) : [next.piece, next.piece];
    if (anchor.current && run) onSelect(reaching(anchor.current, run));
    return true;
  }
  function zooms(key: string): boolean {
    if (key === '+' || key === '=') onZoom(2, spot.piece);
    else if (key === '-' || key === '−') onZoom(0.5, spot.piece);
    else if (key === '0') onWhole();
    else return false;
    return true;
  }
  function act(event: KeyboardEvent): boolean {
    const { key } = event;
    if (zooms(key)) go({ ...spot }); // the part one is at is drawn anew and takes focus again
    else if (key === 'Escape' && selection.length > 0) onSelect?.([]);
    else if ((key === 'Enter' || key === ' ') && onSelect) select(event);
    else return (!event.ctrlKey || key === 'Home' || key === 'End') && step(event);
    return true;
  }
  return (event) => {
    if (act(event)) event.preventDefault();
  };
}
