import './stamp.css';

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
  small = false,
}: {
  stamps: readonly { stamp: string; pieces: string | null; quantity: string | null }[];
  unit?: string;
  small?: boolean;
}) {
  return (
    <span className="stamps">
      {stamps.map(({ stamp, pieces, quantity }) => (
        <Stamp
          key={`${stamp} ${pieces} ${quantity}`}
          word={stamp}
          part={stamps.length === 1 ? null : (pieces ?? (quantity === null ? null : `${quantity} ${unit ?? ''}`))}
          small={small}
        />
      ))}
    </span>
  );
}
