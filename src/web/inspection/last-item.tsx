import { Photographs } from '../design/photographs.js';
import { CLASSES, isItem, type Item, type Marks, type SeverityClass } from './tally-state.js';

/** The nonconforming item that was marked last: what was found on it, its piece, a photograph, a note. */
export function LastItem({ marks, onChange }: { marks: Marks; onChange: (change: Partial<Item>) => void }) {
  const last = marks.at(-1);
  if (!isItem(last)) {
    return (
      <div className="sheet">
        <h3>The item in hand</h3>
        <p className="quiet">
          Press what was found on a nonconforming item. Its photograph, a note, and a worse class can then be added here, before it is
          written down.
        </p>
      </div>
    );
  }
  const judge = (at: number, judged: SeverityClass): void =>
    onChange({ found: last.found.map((one, i) => (i === at ? { ...one, judged } : one)) });
  return (
    <div className="sheet form">
      <h3>The item in hand{last.piece === null ? '' : `: piece ${last.piece}`}</h3>
      <ul className="found-list">
        {last.found.map((one, at) => (
          // Presses have no name of their own, and only the last ever goes away.
          // oxlint-disable-next-line react/no-array-index-key
          <li key={`${at} ${one.says}`}>
            <span>{one.says}</span>
            <label>
              judged{' '}
              <select value={one.judged} onChange={(event) => judge(at, event.target.value as SeverityClass)}>
                {CLASSES.slice(0, CLASSES.indexOf(one.class) + 1).map((of) => (
                  <option key={of}>{of}</option>
                ))}
              </select>
            </label>
          </li>
        ))}
      </ul>
      <label className="field">
        Note
        <textarea rows={2} value={last.note} maxLength={2000} onChange={(event) => onChange({ note: event.target.value })} />
      </label>
      <Photographs files={last.files} onFiles={(files) => onChange({ files })} />
    </div>
  );
}
