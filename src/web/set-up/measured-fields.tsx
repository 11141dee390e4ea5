import { type Choice, CodeField } from '../design/code-field.js';
import { ChoiceField, QuantityField, TextField, TickField } from '../design/fields.js';
import type { DraftCharacteristic } from './characteristic-draft.js';
import { givesUnit } from './method-draft.js';
import { MethodFields } from './method-fields.js';

const DECIMALS = ['0', '1', '2', '3', '4', '5', '6'].map((value) => ({ value, says: value }));
const RULES = [
  { value: 'half-even', says: 'half to even' },
  { value: 'half-up', says: 'half up' },
] as const;
const PER = [
  { value: 'lot', says: 'the lot as a whole' },
  { value: 'item', says: 'items of the sample' },
] as const;

/** What a measured characteristic needs: on what, how, within which limits, and with what. */
export function MeasuredFields({
  pointer,
  one,
  kinds,
  onChange,
}: {
  pointer: string;
  one: DraftCharacteristic;
  /** Kinds of instrument in the register. */
  kinds: readonly Choice[];
  onChange: (part: Partial<DraftCharacteristic>) => void;
}) {
  const limit = (name: 'lower' | 'upper' | 'target', label: string, hint?: string) => (
    <QuantityField
      name={`${pointer}/${name}`}
      label={label}
      hint={hint}
      value={one[name]}
      onChange={(event) => onChange({ [name]: event.target.value })}
    />
  );
  return (
    <>
      <div className="part-fields measured">
        <ChoiceField
          name={`${pointer}/per`}
          label="Measured on"
          choices={PER}
          value={one.per}
          onChange={(event) => onChange({ per: event.target.value as DraftCharacteristic['per'] })}
        />
        {one.per === 'item' ? (
          <TextField
            name={`${pointer}/items`}
            label="Of how many"
            inputMode="numeric"
            pattern="[1-9][0-9]*"
            title="a whole number"
            hint="left empty: all of the sample"
            value={one.items}
            onChange={(event) => onChange({ items: event.target.value })}
          />
        ) : null}
        <MethodFields
          at={`${pointer}/compute`}
          method={one.method}
          onChange={(part) => onChange({ method: { ...one.method, ...part } })}
          replicates={one.replicates}
          replicatesName={`${pointer}/replicates`}
          onReplicates={(replicates) => onChange({ replicates })}
        />
      </div>
      <div className="part-fields measured">
        {limit('lower', 'Lower limit', 'a value on it is within')}
        {limit('upper', 'Upper limit')}
        {limit('target', 'Target')}
        {givesUnit(one.method) ? null : (
          <TextField
            name={`${pointer}/unit`}
            label="Unit"
            maxLength={32}
            required
            hint="as mm, mPa·s, bar"
            value={one.unit}
            onChange={(event) => onChange({ unit: event.target.value })}
          />
        )}
        <ChoiceField
          name={`${pointer}/rounding/decimals`}
          label="Decimals of a result"
          choices={DECIMALS}
          value={one.decimals}
          onChange={(event) => onChange({ decimals: event.target.value })}
        />
        <ChoiceField
          name={`${pointer}/rounding/rule`}
          label="Rounded"
          choices={RULES}
          value={one.rule}
          onChange={(event) => onChange({ rule: event.target.value as DraftCharacteristic['rule'] })}
        />
      </div>
      <div className="part-fields measured">
        <TickField
          name={`${pointer}/required`}
          label="No verdict without it"
          checked={one.required}
          onChange={(event) => onChange({ required: event.target.checked })}
        />
        <TickField
          name={`${pointer}/instrumentRequired`}
          label="Results name their instrument"
          checked={one.instrumentRequired}
          onChange={(event) => onChange({ instrumentRequired: event.target.checked })}
        />
        {one.instrumentRequired ? (
          <CodeField
            name={`${pointer}/instrumentKind`}
            label="Kind of instrument"
            hint="as the register names it; left empty: any"
            choices={kinds}
            value={one.instrumentKind}
            onValue={(instrumentKind) => onChange({ instrumentKind })}
          />
        ) : null}
      </div>
    </>
  );
}
