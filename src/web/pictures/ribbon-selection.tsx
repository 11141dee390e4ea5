import { useId, useState } from 'react';
import type { RibbonPart } from '../../../shared/ribbon-layout.js';
import { countPieces, type Span, type SpanSet, wholeLot } from '../../../shared/spans.js';
import { writtenCount, writtenPieces, writtenSpans } from '../../../shared/written.js';
import { hullOf } from './ribbon-parts.js';

const MANY_STRETCHES = 6;

/** The selection in numbers: it always says what the picture shows, and can be typed into. */
export function RibbonSelection({
  pieces,
  selection,
  onSelect,
  chosen,
  onShow,
}: {
  pieces: number;
  selection: SpanSet;
  onSelect: (spans: SpanSet) => void;
  /** A part in several stretches that one is at: all of it can be selected at once. */
  chosen: RibbonPart | null;
  /** Brings the selection to the full width of the picture. */
  onShow: (() => void) | undefined;
}) {
  const hull = hullOf(selection);
  return (
    <fieldset className="ribbon-selection no-print">
      <legend>Selected pieces</legend>
      <Ends hull={hull} pieces={pieces} onSelect={onSelect} />
      <p className="ribbon-count" role="status">
        {hull === null ? 'None selected' : `${writtenPieces(countPieces(selection))} of ${writtenCount(pieces)}`}
        {selection.length > 1 ? <span className="quiet"> in {stretches(selection)}</span> : null}
      </p>
      <div className="row">
        {chosen === null ? null : (
          <button type="button" onClick={() => onSelect(chosen.spans)}>
            All {writtenCount(countPieces(chosen.spans))} of {chosen.label === '' ? 'these' : chosen.label}
          </button>
        )}
        <button type="button" onClick={() => onSelect(wholeLot(pieces))}>
          All pieces
        </button>
        <button type="button" disabled={onShow === undefined} onClick={onShow}>
          Show it near
        </button>
        <button type="button" disabled={hull === null} onClick={() => onSelect([])}>
          Clear
        </button>
      </div>
    </fieldset>
  );
}

const stretches = (selection: SpanSet): string =>
  selection.length <= MANY_STRETCHES ? writtenSpans(selection) : `${writtenCount(selection.length)} stretches`;

const wholeIn = (text: string, pieces: number): number | null => {
  const piece = Number(text);
  return /^\d+$/u.test(text.trim()) && piece >= 1 && piece <= pieces ? piece : null;
};

/** First and last piece. What is typed becomes the selection as soon as it is one; until then it stays typed and says what is wrong. */
function Ends({ hull, pieces, onSelect }: { hull: Span | null; pieces: number; onSelect: (spans: SpanSet) => void }) {
  const id = useId();
  const selected = { from: `${hull?.[0] ?? ''}`, to: `${hull?.[1] ?? ''}` };
  const [typed, setTyped] = useState(selected);
  const [shown, setShown] = useState(selected);
  if (shown.from !== selected.from || shown.to !== selected.to) {
    setShown(selected);
    setTyped(selected);
  }
  const from = wholeIn(typed.from, pieces);
  const to = wholeIn(typed.to, pieces);
  const wrong = (typed.from !== '' && from === null) || (typed.to !== '' && to === null) || (from !== null && to !== null && from > to);

  function leave(): void {
    if (from !== null && to !== null && from <= to && (from !== hull?.[0] || to !== hull?.[1])) onSelect([[from, to]]);
  }
  const box = (name: 'from' | 'to') => (
    <div className="field">
      <label htmlFor={`${id}${name}`}>{name === 'from' ? 'From piece' : 'To piece'}</label>
      <input
        id={`${id}${name}`}
        type="number"
        inputMode="numeric"
        min={1}
        max={pieces}
        step={1}
        value={typed[name]}
        aria-invalid={wrong}
        aria-describedby={wrong ? `${id}wrong` : undefined}
        onChange={(event) => setTyped({ ...typed, [name]: event.target.value })}
        onBlur={leave}
        onKeyDown={(event) => {
          if (event.key !== 'Enter') return;
          event.preventDefault();
          leave();
        }}
      />
    </div>
  );
  return (
    <>
      {box('from')}
      {box('to')}
      {wrong ? (
        <p className="ribbon-wrong" id={`${id}wrong`}>
          Pieces are whole numbers from 1 to {writtenCount(pieces)}, the first before the last.
        </p>
      ) : null}
    </>
  );
}
