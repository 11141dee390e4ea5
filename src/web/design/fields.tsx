import type { ComponentProps, ReactNode } from 'react';
import { withPoint } from './decimal-comma.js';
import type { Reason } from '../../../shared/refusal.js';
import { useFaults } from './form.js';
import { setValue } from './set-value.js';

interface FieldProps {
  /** JSON pointer of the field in the body, as `/lines/0/item`. */
  name: string;
  label: string;
  hint?: ReactNode;
}

interface Wiring {
  id: string;
  name: string;
  'aria-invalid': boolean;
  'aria-describedby': string | undefined;
}

/** What stands beneath a control, by its ids; undefined where nothing does. */
const describedBy = (id: string, hint: ReactNode, faults: readonly Reason[]): string | undefined =>
  [hint === undefined ? '' : `${id}-hint`, faults.length === 0 ? '' : `${id}-fault`].filter(Boolean).join(' ') || undefined;

/** The hint and every fault of a control. */
function Beneath({ id, hint, faults }: { id: string; hint: ReactNode; faults: readonly Reason[] }) {
  return (
    <>
      {hint === undefined ? null : (
        <span className="hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
      {faults.length === 0 ? null : (
        <span className="fault" id={`${id}-fault`}>
          {faults.map((fault) => fault.detail).join('; ')}
        </span>
      )}
    </>
  );
}

/** A label, a control, a hint, and beside it every fault. */
export function Field({ name, label, hint, children }: FieldProps & { children: (wiring: Wiring) => ReactNode }) {
  const { id, faults } = useFaults(name);
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      {children({ id, name, 'aria-invalid': faults.length > 0, 'aria-describedby': describedBy(id, hint, faults) })}
      <Beneath id={id} hint={hint} faults={faults} />
    </div>
  );
}

/** Without a last day, a year takes six digits, and what is typed after the fourth shifts it. */
const LAST: Readonly<Record<string, string>> = { date: '9999-12-31', 'datetime-local': '9999-12-31T23:59' };

/** One line of text. `code` sets it in the type in which 0 and O cannot be confused. */
export function TextField({ label, hint, code, ...input }: FieldProps & { code?: boolean } & ComponentProps<'input'>) {
  return (
    <Field name={input.name} label={label} hint={hint}>
      {(wiring) => (
        <input
          type="text"
          autoComplete="off"
          max={LAST[input.type ?? '']}
          {...(code ? { className: 'code', spellCheck: false, autoCapitalize: 'off', autoCorrect: 'off' } : {})}
          {...input}
          {...wiring}
        />
      )}
    </Field>
  );
}

/** A decimal comma becomes a point where it can be nothing else, as soon as the field is left. */
function putPoint(field: HTMLInputElement): void {
  const plain = withPoint(field.value);
  if (plain !== field.value) setValue(field, plain);
}

/** A decimal number typed as text: quantities are exact, so no control may round them. */
export function QuantityField({ unit, label, ...rest }: FieldProps & { unit?: string } & ComponentProps<'input'>) {
  return (
    <TextField
      inputMode="decimal"
      pattern="-?[0-9]+([.][0-9]{1,6})?"
      title="a number with a point and at most six decimals; 1,000 may be 1 or a thousand"
      onBlur={({ currentTarget }) => putPoint(currentTarget)}
      onKeyDown={({ key, currentTarget }) => (key === 'Enter' ? putPoint(currentTarget) : undefined)}
      {...rest}
      label={unit === undefined ? label : `${label} (${unit})`}
    />
  );
}

export function TextAreaField({ label, hint, ...area }: FieldProps & ComponentProps<'textarea'>) {
  return (
    <Field name={area.name} label={label} hint={hint}>
      {(wiring) => <textarea rows={3} {...area} {...wiring} />}
    </Field>
  );
}

/** One of a few. For long lists of codes there is `CodePicker`. */
export function ChoiceField({
  label,
  hint,
  choices,
  none,
  ...select
}: FieldProps & {
  choices: readonly { readonly value: string; readonly says: string }[];
  /** The words for choosing nothing; without it, there is no such choice. */
  none?: string;
} & ComponentProps<'select'>) {
  return (
    <Field name={select.name} label={label} hint={hint}>
      {(wiring) => (
        <select {...select} {...wiring}>
          {none === undefined ? null : <option value="">{none}</option>}
          {choices.map(({ value, says }) => (
            <option key={value} value={value}>
              {says}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}

/** A box to tick. */
export function TickField({ label, hint, name, ...input }: FieldProps & ComponentProps<'input'>) {
  const { id, faults } = useFaults(name);
  return (
    <div className="field">
      <label className="check" htmlFor={id}>
        <input
          type="checkbox"
          id={id}
          name={name}
          {...input}
          aria-invalid={faults.length > 0}
          aria-describedby={describedBy(id, hint, faults)}
        />{' '}
        {label}
      </label>
      <Beneath id={id} hint={hint} faults={faults} />
    </div>
  );
}
