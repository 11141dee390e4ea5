import { instantOfLocal } from '../app/clock.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, QuantityField, TextAreaField, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Notice } from '../design/page.js';
import type { BodyOf } from '../wire/use-command.js';
import { changeoversIn, CorrectChangeovers } from './correct-changeovers.js';
import { amount, type Run } from './run.js';
import { useTyped } from './use-typed.js';

type Body = BodyOf<'/api/runs/{run}/corrections'>;

/** One correction: a charge that was none, a charge that was missed, changeovers that were otherwise, or all of them together. */
export function CorrectForm({ run, onDone }: { run: Run; onDone: () => void }) {
  const typed = useTyped(`correct ${run.run}`);
  const wrong = run.charges.find(({ charge }) => `${charge}` === typed.text('/returns/0/charge'));
  const late = typed.text('/charges/0/lot').trim() !== '';
  const recut = typed.text('changeovers') === 'anew';
  const standing = run.charges.filter(({ quantity }) => quantity !== '0');
  const corrects = wrong?.seq ?? run.closedSeq ?? run.startedSeq;
  const entries = [
    ...new Map([
      ...run.charges.map(({ seq, lot, charge }): [number, string] => [seq, `entry ${seq}: charge ${charge}, ${lot}`]),
      [run.closedSeq ?? 0, `entry ${run.closedSeq}: the closing`],
    ]).entries(),
  ];

  function body(values: FormValues): Body {
    return {
      corrects: Number(values.text('/corrects')),
      reason: values.text('/reason'),
      returns:
        wrong === undefined
          ? undefined
          : [
              {
                charge: wrong.charge,
                quantity: values.maybe('/returns/0/quantity'),
                pieces: values.maybe('/returns/0/pieces'),
                location: values.maybe('/returns/0/location'),
              },
            ],
      charges: late
        ? [
            {
              lot: values.text('/charges/0/lot'),
              quantity: values.maybe('/charges/0/quantity'),
              pieces: values.maybe('/charges/0/pieces'),
              chargedAt: instantOfLocal(values.text('/charges/0/chargedAt')) || run.finishedAt || undefined,
              fromPiece: values.whole('/charges/0/fromPiece'),
              intoPieces: values.maybe('/charges/0/intoPieces'),
            },
          ]
        : undefined,
      changeovers: recut ? changeoversIn(run, values) : undefined,
    };
  }
  const does = [
    wrong === undefined ? '' : `${wrong.lot} goes back to stock`,
    late ? `${typed.text('/charges/0/lot')} is charged` : '',
    recut ? 'the changeovers are set anew' : '',
  ].filter((word) => word !== '');
  return (
    <CommandForm
      path="/api/runs/{run}/corrections"
      address={{ run: run.run }}
      submit="Put the record right"
      keepAs={() => `Correction of ${run.run}`}
      body={body}
      check={() => (does.length === 0 ? [{ code: 'not-filled-in', detail: 'Say what was otherwise: a charge, or the changeovers' }] : [])}
      onDone={() => {
        typed.clear();
        onDone();
      }}
      onKept={() => {
        typed.clear();
        onDone();
      }}
      onCancel={onDone}
    >
      <fieldset className="sheet form">
        <legend>A charge that was recorded in error</legend>
        <ChoiceField
          label="Charge"
          none="none"
          choices={standing.map(({ charge, lot, name, quantity, unit }) => ({
            value: `${charge}`,
            says: `${charge}: ${amount(quantity, unit)} of ${lot}, ${name}`,
          }))}
          {...typed.wired('/returns/0/charge')}
        />
        {wrong === undefined ? null : (
          <div className="grid">
            {wrong.pieces === null ? (
              <QuantityField label="How much of it" unit={wrong.unit} hint="Empty: all of it." {...typed.wired('/returns/0/quantity')} />
            ) : (
              <TextField label="Pieces of it" code hint={`Empty: all of ${wrong.pieces}.`} {...typed.wired('/returns/0/pieces')} />
            )}
            <TextField label="Where it is" code hint="Empty: where it was taken from." {...typed.wired('/returns/0/location')} />
          </div>
        )}
      </fieldset>
      <fieldset className="sheet form">
        <legend>A charge that was made and not recorded</legend>
        <div className="grid">
          <TextField label="Lot" code {...typed.wired('/charges/0/lot')} />
          <QuantityField label="Quantity, of a bulk lot" {...typed.wired('/charges/0/quantity')} />
          <TextField label="Pieces, of a numbered lot" code {...typed.wired('/charges/0/pieces')} />
          <TextField
            label="When it went in"
            type="datetime-local"
            hint="Empty: when the run was finished."
            {...typed.wired('/charges/0/chargedAt')}
          />
          {run.yields?.pieces === null ? null : (
            <>
              <TextField label="In use from piece" inputMode="numeric" {...typed.wired('/charges/0/fromPiece')} />
              <TextField label="Into pieces, where that is known" code {...typed.wired('/charges/0/intoPieces')} />
            </>
          )}
        </div>
      </fieldset>
      {run.yields?.pieces === null ? null : <CorrectChangeovers run={run} typed={typed} />}
      <ChoiceField
        label="Entry that is corrected"
        choices={entries.map(([seq, says]) => ({ value: `${seq}`, says }))}
        {...typed.wired('/corrects', `${corrects}`)}
      />
      <TextAreaField label="Why it was wrong, and how one knows" required rows={3} {...typed.wired('/reason')} />
      {does.length === 0 ? null : (
        <Notice>
          <p>
            This will be so: {does.join('; ')}. The genealogy of {run.lot} is worked out anew, and only the difference is voided and
            recorded.
          </p>
        </Notice>
      )}
    </CommandForm>
  );
}
