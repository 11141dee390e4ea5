import type { Reason } from '../../../shared/refusal.js';
import { TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';

/** Shortest password. Length is what counts; nothing is asked about kinds of characters. */
const SHORTEST = 12;

/** A new password, twice: what nobody sees while it is typed is easily mistyped. */
export function PasswordFields({ name, label, required, hint }: { name: string; label: string; required: boolean; hint?: string }) {
  return (
    <div className="grid">
      <TextField
        name={name}
        label={label}
        type="password"
        autoComplete="new-password"
        required={required}
        minLength={SHORTEST}
        hint={hint ?? `at least ${SHORTEST} characters; a few words are good`}
      />
      <TextField name={`${name}Again`} label="The same again" type="password" autoComplete="new-password" required={required} />
    </div>
  );
}

/** What is wrong with the two: they differ. */
export const passwordFaults = (values: FormValues, name: string): Reason[] =>
  values.password(name) === values.password(`${name}Again`)
    ? []
    : [{ code: 'not-filled-in', detail: 'The two passwords differ', pointer: `${name}Again` }];
