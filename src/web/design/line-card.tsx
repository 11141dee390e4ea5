import type { ReactNode } from 'react';
import { useFaultsOfWhole } from './form.js';
import { ReasonLine } from './refused.js';
import './line-card.css';

/** One line of goods on a paper being written: its fields stand in a `line-card-fields` within. It can be taken out again. */
export function LineCard({ at, name, onTakeOut, children }: { at: number; name?: string; onTakeOut: () => void; children: ReactNode }) {
  const { id, faults } = useFaultsOfWhole(`/lines/${at}`);
  return (
    <fieldset className="line-card" id={id} tabIndex={-1} aria-describedby={faults.length === 0 ? undefined : `${id}-fault`}>
      <legend>
        Line {at + 1}
        {name === undefined ? '' : `: ${name}`}
      </legend>
      {children}
      {faults.length === 0 ? null : (
        <ul className="line-faults" id={`${id}-fault`}>
          {faults.map((reason) => (
            <li key={`${reason.code} ${reason.detail}`}>
              <ReasonLine reason={reason} />
            </li>
          ))}
        </ul>
      )}
      <button type="button" className="take-out" onClick={onTakeOut}>
        Take line {at + 1} out
      </button>
    </fieldset>
  );
}
