import { useMemo, useState } from 'react';
import type { SpanSet } from '../../../shared/spans.js';
import { ChoiceField, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Ribbon } from '../pictures/ribbon.js';
import { pieceNumber } from './piece-number.js';
import { ribbonOfRun } from './ribbon-of-run.js';
import type { Run } from './run.js';
import type { Typed } from './use-typed.js';

const at = (i: number): string => `/changeovers/${i}/fromPiece`;

/** Every changeover of the run as it is known now: one piece number for each lot that was charged; empty where there was none. */
export function CorrectChangeovers({ run, typed }: { run: Run; typed: Typed }) {
  const [selection, setSelection] = useState<SpanSet>([]);
  const lots = lotsOf(run);
  const anew = typed.text('changeovers') === 'anew';
  const drawn = useMemo(() => {
    const changeovers = anew
      ? lots.flatMap(({ lot, item, fromPiece }, i) => {
          const piece = pieceNumber(typed.text(at(i), fromPiece));
          return piece > 0 ? [{ item, lot, fromPiece: piece, changedAt: '' }] : [];
        })
      : run.changeovers;
    return ribbonOfRun({ ...run, changeovers });
    // What is typed is read through `typed`, which is made anew with every change.
  }, [anew, lots, run, typed]);
  return (
    <fieldset className="sheet form">
      <legend>Changeovers</legend>
      <ChoiceField
        {...typed.wired('changeovers')}
        name="changeovers"
        label="Were they as they are recorded?"
        choices={[
          { value: '', says: 'yes, as they are' },
          { value: 'anew', says: 'no, they are given anew here' },
        ]}
      />
      <Ribbon input={drawn} label={run.lot ?? run.run} selection={selection} onSelect={setSelection} />
      {anew ? (
        <div className="grid">
          {lots.map(({ lot, name, fromPiece }, i) => (
            <TextField
              key={`${lot} ${i}`}
              label={`${lot}, ${name}: from piece`}
              inputMode="numeric"
              pattern="[1-9][0-9]*"
              title="a whole number from 1"
              hint={selection[0] === undefined ? undefined : `picked on the ribbon: ${selection[0][0]}`}
              {...typed.wired(at(i), fromPiece)}
            />
          ))}
        </div>
      ) : null}
    </fieldset>
  );
}

/** A line for every changeover there is, and one for every lot that has none. */
function lotsOf(run: Run): { lot: string; item: string; name: string; fromPiece: string }[] {
  const charges = [
    ...new Map(
      run.charges.filter(({ quantity, into }) => quantity !== '0' && into.length === 0).map((charge) => [charge.lot, charge]),
    ).values(),
  ];
  return charges.flatMap(({ lot, item, name }) => {
    const own = run.changeovers.filter((one) => one.lot === lot);
    return own.length === 0
      ? [{ lot, item, name, fromPiece: '' }]
      : own.map(({ fromPiece }) => ({ lot, item, name, fromPiece: `${fromPiece}` }));
  });
}

export function changeoversIn(run: Run, values: FormValues): { lot: string; fromPiece: number; changedAt?: string }[] {
  return lotsOf(run).flatMap(({ lot }, i) => {
    const fromPiece = values.whole(at(i));
    return fromPiece === undefined ? [] : [{ lot, fromPiece, changedAt: run.finishedAt ?? run.startedAt }];
  });
}
