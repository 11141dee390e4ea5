import { type Choice, CodeField } from '../design/code-field.js';
import { ChoiceField, TextField } from '../design/fields.js';
import type { DraftCharacteristic, SeverityClass } from './characteristic-draft.js';
import { MeasuredFields } from './measured-fields.js';

const SEVERITY_CHOICES: readonly { readonly value: SeverityClass; readonly says: string }[] = [
  { value: 'critical', says: 'critical: can hurt somebody' },
  { value: 'major', says: 'major: fails its purpose' },
  { value: 'minor', says: 'minor: hardly matters' },
];
const KINDS = { attribute: 'looked at', measured: 'measured' };

/** One characteristic: what is looked at or measured, and how much it matters when it is not met. */
export function CharacteristicFields({
  at,
  one,
  defects,
  kinds,
  onChange,
  onTakeOut,
}: {
  at: number;
  one: DraftCharacteristic;
  defects: readonly Choice[];
  kinds: readonly Choice[];
  onChange: (part: Partial<DraftCharacteristic>) => void;
  onTakeOut: () => void;
}) {
  const pointer = `/characteristics/${at}`;
  return (
    <fieldset className="part characteristic">
      <legend>
        {KINDS[one.kind]}
        {one.code === '' ? '' : `: ${one.code}`}
      </legend>
      <div className="part-fields characteristic-head">
        <TextField
          name={`${pointer}/code`}
          label="Code"
          code
          required
          maxLength={64}
          value={one.code}
          onChange={(event) => onChange({ code: event.target.value })}
        />
        <TextField
          name={`${pointer}/name`}
          label="Name"
          required
          maxLength={200}
          value={one.name}
          onChange={(event) => onChange({ name: event.target.value })}
        />
        <ChoiceField
          name={`${pointer}/class`}
          label="When it is not met, it is"
          choices={SEVERITY_CHOICES}
          value={one.class}
          onChange={(event) => onChange({ class: event.target.value as SeverityClass })}
        />
        {one.kind === 'attribute' ? (
          <CodeField
            name={`${pointer}/defect`}
            label="Defect found then"
            hint="of the plant’s list, if it is on it"
            choices={defects}
            value={one.defect}
            onValue={(defect) => onChange({ defect })}
          />
        ) : null}
        <TextField
          name={`${pointer}/procedure`}
          label="Procedure"
          maxLength={200}
          hint="number of what is followed"
          value={one.procedure}
          onChange={(event) => onChange({ procedure: event.target.value })}
        />
      </div>
      {one.kind === 'measured' ? <MeasuredFields pointer={pointer} one={one} kinds={kinds} onChange={onChange} /> : null}
      <div className="row part-moves">
        <button type="button" className="plain" onClick={onTakeOut}>
          Take out <span className="hidden-but-read">{one.code === '' ? `characteristic ${at + 1}` : one.code}</span>
        </button>
      </div>
    </fieldset>
  );
}
