import { useEffect, useState } from 'react';
import { writtenCount } from '../../../shared/written.js';
import { useMe } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, TextField } from '../design/fields.js';
import { Said } from '../design/said.js';
import { useDraft } from '../outbox/use-draft.js';
import { pieceNumber } from './piece-number.js';
import type { Run } from './run.js';
import { useDoing } from './use-doing.js';

interface Trying {
  readonly item: string;
  readonly lot: string;
  readonly fromPiece: number;
}
const NOTHING = { lot: '', fromPiece: '' };

/** From which piece on a lot is in use. The ribbon shows it before it is recorded. */
export function ChangeoverForm({ run, picked, onTry }: { run: Run; picked: number | null; onTry: (trying: Trying | null) => void }) {
  const { person } = useMe();
  const doing = useDoing();
  const [draft, setDraft, clear] = useDraft(`${person} changeover ${run.run}`, NOTHING);
  const [said, setSaid] = useState('');
  const lots = [...new Map(run.charges.filter(({ quantity }) => quantity !== '0').map((charge) => [charge.lot, charge])).values()];
  const charge = lots.find(({ lot }) => lot === draft.lot);
  useEffect(() => {
    if (picked !== null) setDraft((before) => ({ ...before, fromPiece: `${picked}` }));
    // Only what is picked anew on the ribbon is taken over: what is typed afterwards stands.
    // oxlint-disable-next-line react-hooks/exhaustive-deps
  }, [picked]);
  const fromPiece = pieceNumber(draft.fromPiece);
  const whole = fromPiece > 0;
  const item = charge?.item;
  useEffect(() => {
    onTry(item !== undefined && whole ? { item, lot: draft.lot, fromPiece } : null);
  }, [item, draft.lot, fromPiece, whole, onTry]);
  const before =
    item === undefined
      ? undefined
      : run.changeovers.filter((one) => one.item === item && one.fromPiece < fromPiece).toSorted((a, b) => b.fromPiece - a.fromPiece)[0];
  const words = !whole || charge === undefined ? 'Record the changeover' : `From piece ${writtenCount(fromPiece)} on: ${charge.lot}`;
  function over(says: string): void {
    doing.over();
    clear();
    setSaid(says);
  }
  if (lots.length === 0) return <p className="quiet">Charge a lot first; then say here from which piece on it is in use.</p>;
  return (
    <div className="sheet changeover">
      <h3>A lot gives way to the next</h3>
      <Said says={said} />
      <CommandForm
        path="/api/runs/{run}/changeovers"
        address={{ run: run.run }}
        submit={words}
        keepAs={() => `${draft.lot} in use from piece ${draft.fromPiece} of ${run.run}`}
        body={() => ({ changeovers: [{ lot: draft.lot, fromPiece, changedAt: doing.at() }] })}
        onDone={() => over(`${draft.lot} is in use from piece ${draft.fromPiece} on.`)}
        onKept={() =>
          over(`The changeover to ${draft.lot} at piece ${draft.fromPiece} is kept on this device and sent when the server is back.`)
        }
      >
        <div className="grid">
          <ChoiceField
            name="/changeovers/0/lot"
            label="Lot that comes into use"
            none="choose a lot that was charged"
            choices={lots.map(({ lot, name }) => ({ value: lot, says: `${lot}, ${name}` }))}
            value={draft.lot}
            onChange={(event) => setDraft((now) => ({ ...now, lot: event.target.value }))}
            required
          />
          <TextField
            name="/changeovers/0/fromPiece"
            label="From piece"
            inputMode="numeric"
            pattern="[1-9][0-9]*"
            title="a whole number from 1"
            value={draft.fromPiece}
            onChange={(event) => setDraft((now) => ({ ...now, fromPiece: event.target.value.trim() }))}
            hint="Pick the piece on the ribbon, or type it."
            required
          />
        </div>
        {charge !== undefined && whole ? (
          <p className="quiet">
            {before === undefined
              ? `Pieces before ${writtenCount(fromPiece)} keep what they have.`
              : `${before.lot} ends at piece ${writtenCount(fromPiece - 1)}.`}
          </p>
        ) : null}
      </CommandForm>
    </div>
  );
}
