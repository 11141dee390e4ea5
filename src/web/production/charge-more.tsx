import { ChoiceField, QuantityField, TextField, TickField } from '../design/fields.js';
import type { Lot, Run } from './run.js';
import { onHand } from './take-from.js';

/** What is seldom said of a charge: the time, the place, the step, the pieces it went into. Open when something of it was typed. */
export function ChargeMore({
  at,
  run,
  lot,
  field,
  type,
  pieces,
}: {
  at: string;
  run: Run;
  lot: Lot;
  field: (name: string, otherwise: string) => string;
  type: (name: string, text: string) => void;
  /** It makes pieces, and which of them it went into may be said here. */
  pieces: boolean;
}) {
  const wired = (name: string) => ({
    name: `${at}/${name}`,
    value: field(name, ''),
    onChange: (event: { target: { value: string } }) => type(name, event.target.value),
  });
  const { places } = onHand(lot);
  const steps = run.steps.filter(({ item }) => item === lot.item);
  const open = ['chargedAt', 'from', 'step', 'unit', 'mass', 'intoPieces'].some((name) => field(name, '') !== '');
  return (
    <details className="more" open={open || undefined}>
      <summary>Another time, place or unit</summary>
      <div className="grid">
        <TextField label="When it went in" type="datetime-local" step={1} hint="Empty: now." {...wired('chargedAt')} />
        {places.length < 2 ? null : (
          <ChoiceField
            label="Taken from"
            none="wherever it is"
            choices={places.map((place) => ({ value: place, says: place }))}
            {...wired('from')}
          />
        )}
        {steps.length < 2 ? null : (
          <ChoiceField
            label="Step"
            none="the first that wants some"
            choices={steps.map(({ step }) => ({ value: `${step}`, says: `step ${step}` }))}
            {...wired('step')}
          />
        )}
        {lot.unit === 'kg' || lot.unit === 'L' ? (
          <ChoiceField
            label="Unit it was measured in"
            none={lot.unit}
            choices={[lot.unit === 'kg' ? 'L' : 'kg'].map((unit) => ({ value: unit, says: `${unit}, converted by the density` }))}
            {...wired('unit')}
          />
        ) : null}
        {lot.unit === 'each' || lot.unit === 'm' ? null : (
          <QuantityField label="Mass, where the item does not say it" unit="kg" {...wired('mass')} />
        )}
        {pieces ? (
          <>
            <TextField label="Into pieces" code hint="Pieces of the lot being made, as 5-17,40." {...wired('intoPieces')} />
            {lot.pieces === null ? null : <TickField name={`${at}/map`} label="One by one, in order" defaultChecked />}
          </>
        ) : null}
      </div>
    </details>
  );
}
