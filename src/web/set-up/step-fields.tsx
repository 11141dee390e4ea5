import { CodeField, type Choice } from '../design/code-field.js';
import { QuantityField, TextField } from '../design/fields.js';
import { PERCENT_PATTERN } from './percent.js';
import type { DraftStep } from './recipe-draft.js';

/** One step of a recipe: what is charged, how much, how exactly, and how long it is mixed before the next. */
export function StepFields({
  at,
  of,
  step,
  unit,
  choices,
  onChange,
  onMove,
  onTakeOut,
}: {
  at: number;
  /** How many steps there are. */
  of: number;
  step: DraftStep;
  unit: string | undefined;
  choices: readonly Choice[];
  onChange: (part: Partial<DraftStep>) => void;
  onMove: (by: -1 | 1) => void;
  onTakeOut: () => void;
}) {
  const name = (field: string): string => `/steps/${at}/${field}`;
  return (
    <fieldset className="part">
      <legend>Step {at + 1}</legend>
      <div className="part-fields step">
        <CodeField name={name('item')} label="Charge" required choices={choices} value={step.item} onValue={(item) => onChange({ item })} />
        <QuantityField
          name={name('target')}
          label="Target"
          unit={unit}
          required
          value={step.target}
          onChange={(event) => onChange({ target: event.target.value })}
        />
        <TextField
          name={name('toleranceBp')}
          label="Tolerance (± %)"
          inputMode="decimal"
          pattern={PERCENT_PATTERN}
          title="a percentage with at most two decimals"
          required
          value={step.tolerance}
          onChange={(event) => onChange({ tolerance: event.target.value })}
        />
        <TextField
          name={name('mixMinutes')}
          label="Mix (minutes)"
          inputMode="numeric"
          pattern="[0-9]+"
          title="whole minutes"
          hint="at least, before the next"
          required
          value={step.minutes}
          onChange={(event) => onChange({ minutes: event.target.value })}
        />
      </div>
      <div className="row part-moves">
        <button type="button" id={`step-${step.id}-up`} disabled={at === 0} onClick={() => onMove(-1)}>
          <span aria-hidden="true">↑</span> Up <span className="hidden-but-read">with step {at + 1}</span>
        </button>
        <button type="button" id={`step-${step.id}-down`} disabled={at === of - 1} onClick={() => onMove(1)}>
          <span aria-hidden="true">↓</span> Down <span className="hidden-but-read">with step {at + 1}</span>
        </button>
        <button type="button" className="plain" disabled={of === 1} onClick={onTakeOut}>
          Take out <span className="hidden-but-read">step {at + 1}</span>
        </button>
      </div>
    </fieldset>
  );
}
