import { memo } from 'react';
import type { RibbonRow, RibbonSegment } from '../../../shared/ribbon-layout.js';
import { coversSpans, type SpanSet } from '../../../shared/spans.js';
import { tellPart } from './ribbon-parts.js';

const INSET = 6;
/** Mean width of a character as the ribbon sets it. */
export const CHAR_WIDTH = 7.2;

/** As much of a text as fits, with a sign that there is more; nothing when not even its beginning would tell anything. */
export function cutText(text: string, width: number): string {
  const letters = Array.from(text);
  const fit = Math.floor(width / CHAR_WIDTH);
  if (letters.length <= fit) return text;
  return fit < 4 ? '' : `${letters.slice(0, fit - 1).join('')}…`;
}

interface RowProps {
  readonly row: RibbonRow;
  readonly index: number;
  readonly labelRoom: number;
  readonly gap: number;
  /** The segment that the Tab key leads to; -1: none of this row. */
  readonly focusable: number;
  readonly marked: string | null;
  /** Unique in the page: patterns are named by it. */
  readonly id: string;
  /** Null where nothing can be selected. */
  readonly selection: SpanSet | null;
}

/** A row of the ribbon: what it is of, its segments and its cuts. */
export const RibbonRowDrawing = memo(function RibbonRowDrawing({ row, index, labelRoom, gap, focusable, marked, id, selection }: RowProps) {
  const { label, lane, y, height, side, segments, cuts } = row;
  const middle = y + height / 2;
  return (
    <g role="row" className={side} aria-label={label}>
      <text role="rowheader" className="row-label" x={labelRoom - 10} y={middle}>
        {lane === 0 ? cutText(label, labelRoom - 12) : ''}
        <title>{label}</title>
      </text>
      {segments.map((segment, i) => (
        <Segment
          key={segment.first}
          segment={segment}
          row={row}
          at={`${index} ${segment.first}`}
          gap={gap}
          tabIndex={i === focusable ? 0 : -1}
          marked={marked !== null && segment.kind !== 'piece' && segment.label === marked}
          id={id}
          selected={selection === null ? undefined : coversSpans(selection, [[segment.first, segment.last]])}
        />
      ))}
      {cuts.map(({ piece, x }) => (
        <g key={piece} className="cut" aria-hidden="true">
          <line x1={x} x2={x} y1={y} y2={y + height} />
          {side === 'below' ? <line className="notch" x1={x} x2={x} y1={y - gap / 2} y2={y + height + gap / 2} /> : null}
        </g>
      ))}
    </g>
  );
});

interface SegmentProps {
  readonly segment: RibbonSegment;
  readonly row: RibbonRow;
  readonly at: string;
  readonly gap: number;
  readonly tabIndex: number;
  readonly marked: boolean;
  readonly id: string;
  /** Undefined where nothing can be selected. */
  readonly selected: boolean | undefined;
}

const HATCHED: Readonly<Record<string, string>> = { nonconforming: 'hatch', 'not-accepted': 'hatch', scrap: 'cross' };

function Segment({ segment, row, at, gap, tabIndex, marked, id, selected }: SegmentProps) {
  const { first, last, x, width, label, kind, affected } = segment;
  const told = tellPart(row.label, label, kind, affected, [first, last]);
  const outlined = kind === 'held' || kind === 'nonconforming' || kind === 'on-hand' || kind === 'retain' || kind === 'quarantine';
  const inset = outlined ? Math.min(0.75, width / 4) : 0;
  const box = { x: x + inset, y: row.y + inset, width: Math.max(0.5, width - 2 * inset), height: row.height - 2 * inset };
  const pattern = HATCHED[kind];
  // A label that does not fit is clipped, and its end marked by drawing: what is written must be part of what is told.
  const shown = cutText(label, width - 2 * INSET);
  const cut = shown.endsWith('…') && shown !== label;
  const middle = row.y + row.height / 2;
  const end = x + INSET + (Array.from(shown).length - 1) * CHAR_WIDTH + 1;
  const clip = `${id}-clip-${at.replace(' ', '-')}`;
  return (
    <g
      role="gridcell"
      aria-label={told}
      aria-selected={selected}
      tabIndex={tabIndex}
      data-at={at}
      className={`seg ${kind}${affected ? ' affected' : ''}${marked ? ' marked' : ''}${selected === undefined ? '' : ' selectable'}`}
    >
      <rect className="hit" x={x} width={width} y={row.y - gap / 2} height={row.height + gap} />
      <rect className="body" {...box} />
      {pattern === undefined ? null : <rect className="pattern" fill={`url(#${id}-${pattern})`} {...box} />}
      {cut ? (
        <clipPath id={clip}>
          <rect x={x} width={end - x} y={row.y} height={row.height} />
        </clipPath>
      ) : null}
      {shown === '' ? null : (
        <text x={x + INSET} y={middle} aria-hidden="true" clipPath={cut ? `url(#${clip})` : undefined}>
          {label}
        </text>
      )}
      {cut ? <line className="more" x1={end} x2={end + 9} y1={middle + 4} y2={middle + 4} /> : null}
      <title>{told}</title>
    </g>
  );
}
