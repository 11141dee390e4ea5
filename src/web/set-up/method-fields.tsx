import { sameWords } from '../design/choices.js';
import { ChoiceField, QuantityField, TextField, TickField } from '../design/fields.js';
import { type DraftMethod, hasReplicates, isVolume, METHODS } from './method-draft.js';

type Change = (part: Partial<DraftMethod>) => void;
interface Props {
  /** JSON pointer of the method in the body. */
  at: string;
  method: DraftMethod;
  onChange: Change;
}

const WHOLE = { inputMode: 'numeric', pattern: '[0-9]+', title: 'a whole number' } as const;

/** How readings become a result: the method and what it needs, and how many readings make one. */
export function MethodFields({
  at,
  method,
  onChange,
  replicates,
  replicatesName,
  onReplicates,
}: Props & { replicates: string; replicatesName: string; onReplicates: (text: string) => void }) {
  const packages = method.kind === 'net-content';
  return (
    <>
      <ChoiceField
        name={`${at}/kind`}
        label="A result is"
        choices={METHODS}
        value={method.kind}
        onChange={(event) => onChange({ kind: event.target.value as DraftMethod['kind'] })}
      />
      {hasReplicates(method) ? (
        <TextField
          name={replicatesName}
          label={packages ? 'Packages' : 'Readings'}
          {...WHOLE}
          required
          hint="that make one result"
          value={replicates}
          onChange={(event) => onReplicates(event.target.value)}
        />
      ) : null}
      {method.kind === 'density' ? <Density at={at} method={method} onChange={onChange} /> : null}
      {method.kind === 'colour-difference' ? <Colour at={at} method={method} onChange={onChange} /> : null}
      {method.kind === 'net-content' ? <NetContent at={at} method={method} onChange={onChange} /> : null}
    </>
  );
}

const Density = ({ at, method, onChange }: Props) => (
  <>
    <ChoiceField
      name={`${at}/massUnit`}
      label="Mass read in"
      choices={sameWords(['g', 'kg'])}
      value={method.massUnit}
      onChange={(event) => onChange({ massUnit: event.target.value as DraftMethod['massUnit'] })}
    />
    <ChoiceField
      name={`${at}/volumeUnit`}
      label="Volume read in"
      choices={sameWords(['mL', 'L'])}
      value={method.volumeUnit}
      onChange={(event) => onChange({ volumeUnit: event.target.value as DraftMethod['volumeUnit'] })}
    />
  </>
);

const Colour = ({ at, method, onChange }: Props) => (
  <>
    {(['l', 'a', 'b'] as const).map((part) => (
      <QuantityField
        key={part}
        name={`${at}/standard/${part}`}
        label={`${part === 'l' ? 'L' : part}* of the standard`}
        required
        value={method[part]}
        onChange={(event) => onChange({ [part]: event.target.value })}
      />
    ))}
  </>
);

function NetContent({ at, method, onChange }: Props) {
  return (
    <>
      <QuantityField
        name={`${at}/nominal`}
        label="On the label"
        hint="left empty: the content of the item"
        value={method.nominal}
        onChange={(event) => onChange({ nominal: event.target.value })}
      />
      <ChoiceField
        name={`${at}/unit`}
        label="Its unit"
        choices={sameWords(['g', 'kg', 'mL', 'L'])}
        value={method.unit}
        onChange={(event) => onChange({ unit: event.target.value as DraftMethod['unit'] })}
      />
      <ChoiceField
        name={`${at}/weighed`}
        label="Entered for each"
        choices={[
          { value: 'net', says: 'net content' },
          { value: 'gross-and-tare', says: 'gross and tare' },
        ]}
        value={method.weighed}
        onChange={(event) => onChange({ weighed: event.target.value as DraftMethod['weighed'] })}
      />
      {isVolume(method) ? (
        <QuantityField
          name={`${at}/density`}
          label="Density"
          unit="kg per L"
          hint="a volume that is weighed"
          value={method.density}
          onChange={(event) => onChange({ density: event.target.value })}
        />
      ) : null}
      <ChoiceField
        name={`${at}/rules`}
        label="Judged by"
        choices={[
          { value: 'packer', says: 'packer’s rules' },
          { value: 'reference', says: 'reference test' },
        ]}
        value={method.rules}
        onChange={(event) => onChange({ rules: event.target.value as DraftMethod['rules'] })}
      />
      {method.rules === 'packer' ? (
        <TextField
          name={`${at}/allowedShort`}
          label="May be short"
          {...WHOLE}
          hint="packages short by more than is tolerable"
          value={method.allowedShort}
          onChange={(event) => onChange({ allowedShort: event.target.value })}
        />
      ) : (
        <TickField
          name={`${at}/destructive`}
          label="It destroys the packages"
          checked={method.destructive}
          onChange={(event) => onChange({ destructive: event.target.checked })}
        />
      )}
    </>
  );
}
