import type { ReactNode } from 'react';
import './line-card.css';

/** One line of goods on a paper being written: its fields stand in a `line-card-fields` within. It can be taken out again. */
export function LineCard({ at, name, onTakeOut, children }: { at: number; name?: string; onTakeOut: () => void; children: ReactNode }) {
  return (
    <fieldset className="line-card">
      <legend>
        Line {at + 1}
        {name === undefined ? '' : `: ${name}`}
      </legend>
      {children}
      <button type="button" className="take-out" onClick={onTakeOut}>
        Take line {at + 1} out
      </button>
    </fieldset>
  );
}
