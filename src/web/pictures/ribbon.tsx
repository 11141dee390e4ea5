import { useMemo, useState } from 'react';
import type { RibbonInput } from '../../../shared/ribbon-layout.js';
import { layoutRibbonWindow, movedWindow, windowAround, windowWith, zoomedWindow } from '../../../shared/ribbon-window.js';
import { type Span, type SpanSet } from '../../../shared/spans.js';
import { writtenCount, writtenPieces } from '../../../shared/written.js';
import { RibbonDrawing } from './ribbon-drawing.js';
import { RibbonLegend } from './ribbon-legend.js';
import { atSpot, hullOf, type Spot, tellPart } from './ribbon-parts.js';
import { CHAR_WIDTH } from './ribbon-row.js';
import { RibbonSelection } from './ribbon-selection.js';
import { RibbonTable } from './ribbon-table.js';
import { useCoarsePointer } from './use-coarse-pointer.js';
import { useWidth } from './use-width.js';
import './ribbon.css';

const NARROW = 700;
/** A finger needs 44 px from row to row; a mouse does with less. */
const FOR_FINGERS = { stripHeight: 34, barHeight: 34, gap: 10 };
const FOR_A_MOUSE = { stripHeight: 24, barHeight: 28, gap: 6 };
const NOTHING: SpanSet = [];

/**
 * The ribbon: a numbered lot from piece 1 to N, where its pieces went above, what they were made of below, and the same as a table under
 * it. With `onSelect`, pieces are selected by dragging, by clicking or by keyboard, and by typing their numbers.
 */
export function Ribbon({
  input,
  label,
  selection = NOTHING,
  onSelect,
  marked = null,
  onMark,
}: {
  input: RibbonInput;
  /** What it is the ribbon of, as `Lot F26-00031`. */
  label: string;
  selection?: SpanSet;
  onSelect?: (spans: SpanSet) => void;
  /** The code of a lot, customer, hold … that is marked wherever it is in the picture. */
  marked?: string | null;
  /** Pointer or focus came to a part, or left it. */
  onMark?: (code: string | null) => void;
}) {
  const { pieces } = input;
  const [room, width] = useWidth<HTMLDivElement>();
  const coarse = useCoarsePointer();
  const [asked, setAsked] = useState<Span>([1, pieces]);
  const [pointed, setPointed] = useState<Spot | null>(null);
  const [at, setAt] = useState<Spot | null>(null);
  const range: Span = asked[1] > pieces ? [1, pieces] : asked;
  const [from, to] = range;
  const ribbon = useMemo(() => {
    if (width === 0 || pieces === 0) return null;
    const size = coarse ? FOR_FINGERS : FOR_A_MOUSE;
    return layoutRibbonWindow(input, [from, to], { width, labelRoom: width < NARROW ? 104 : 148, charWidth: CHAR_WIDTH, ...size });
  }, [input, pieces, from, to, width, coarse]);
  const told = ribbon === null ? null : atSpot(input, ribbon, pointed);
  const chosen = ribbon === null ? null : (atSpot(input, ribbon, at)?.part ?? null);

  function point(spot: Spot | null): void {
    setPointed(spot);
    const here = ribbon === null ? null : atSpot(input, ribbon, spot);
    onMark?.(here === null || here.part.kind === 'piece' ? null : here.part.label);
  }
  const middle = Math.round((from + to) / 2);
  const zoom = (factor: number, around = middle): void => setAsked(zoomedWindow(range, pieces, factor, around));
  const whole = (): void => setAsked([1, pieces]);
  const hull = hullOf(selection);

  if (pieces === 0) return <p className="quiet">{label} has no pieces.</p>;
  return (
    <figure className="ribbon" aria-label={`Ribbon of ${label}, ${writtenPieces(pieces)}`}>
      <div className="ribbon-bar row no-print">
        <button type="button" aria-label="Come nearer" disabled={to - from < 8} onClick={() => zoom(2)}>
          +
        </button>
        <button type="button" aria-label="Go farther" disabled={to - from + 1 === pieces} onClick={() => zoom(0.5)}>
          −
        </button>
        <button type="button" disabled={to - from + 1 === pieces} onClick={whole}>
          Whole
        </button>
        <button type="button" disabled={from === 1} onClick={() => setAsked(movedWindow(range, pieces, -0.5))}>
          Earlier
        </button>
        <button type="button" disabled={to === pieces} onClick={() => setAsked(movedWindow(range, pieces, 0.5))}>
          Later
        </button>
        <span className="quiet" role="status">
          Showing pieces {writtenCount(from)} to {writtenCount(to)} of {writtenCount(pieces)}
        </span>
      </div>
      <div className="ribbon-room" ref={room}>
        {ribbon === null ? null : (
          <RibbonDrawing
            ribbon={ribbon}
            input={input}
            label={label}
            range={range}
            selection={selection}
            onSelect={onSelect}
            marked={marked}
            onPoint={point}
            onGoTo={(spot) => {
              setAt(spot);
              point(spot);
            }}
            onZoom={zoom}
            onWhole={whole}
            onShow={(piece) => setAsked(windowWith(range, pieces, piece))}
          />
        )}
      </div>
      <p className="ribbon-told">
        {told === null ? (
          <span className="quiet no-print">
            Point at a part to read it here{onSelect ? ', click it or drag along pieces to select them' : ''}. By keyboard: arrows
            {onSelect ? ', Enter, Shift with arrows' : ''}, + and − .
          </span>
        ) : (
          tellPart(told.row.label, told.part.label, told.part.kind, told.part.affected ?? false, told.run)
        )}
      </p>
      <RibbonLegend input={input} />
      {onSelect ? (
        <RibbonSelection
          pieces={pieces}
          selection={selection}
          onSelect={onSelect}
          chosen={chosen !== null && chosen.spans.length > 1 ? chosen : null}
          onShow={hull === null ? undefined : () => setAsked(windowAround(hull, pieces))}
        />
      ) : null}
      <RibbonTable input={input} onMark={onMark} marked={marked} />
    </figure>
  );
}
