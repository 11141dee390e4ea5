import { countPieces, parseSpans } from '../../../shared/spans.js';
import { writtenPieces, writtenSpans } from '../../../shared/written.js';
import './stamp.css';

/** More stretches than this are counted, not listed. */
const FEW = 2;

function writtenPart(pieces: string | null, whole: number | null): string | null {
  if (pieces === null) return null;
  const spans = parseSpans(pieces);
  const count = countPieces(spans);
  if (count === whole) return null;
  return spans.length <= FEW ? writtenSpans(spans) : writtenPieces(count);
}

/** A rubber stamp: what a lot, a recall or a plant is, in one word. Pieces or a quantity say which part of the lot it is on. */
export function Stamp({ word, part, small = false }: { word: string; part?: string | null; small?: boolean }) {
  const kind = word.toLowerCase().replaceAll(' ', '-');
  return (
    <span>
      <span className={`stamp ${kind}${small ? ' small' : ''}`}>{word}</span>
      {part ? <span className="quiet"> {part}</span> : null}
    </span>
  );
}

/** The stamps of a lot as the API tells them, each with the pieces or the quantity it is on. */
export function Stamps({
  stamps,
  unit,
  whole = null,
  small = false,
}: {
  stamps: readonly { stamp: string; pieces: string | null; quantity: string | null }[];
  unit?: string;
  /** Pieces in the lot: a word that is on all of them says no numbers. */
  whole?: number | null;
  small?: boolean;
}) {
  return (
    <span className="stamps">
      {stamps.map(({ stamp, pieces, quantity }) => (
        <Stamp
          key={`${stamp} ${pieces} ${quantity}`}
          word={stamp}
          part={stamps.length === 1 ? null : (writtenPart(pieces, whole) ?? (quantity === null ? null : `${quantity} ${unit ?? ''}`))}
          small={small}
        />
      ))}
    </span>
  );
}
