import { useEffect, useRef, useState } from 'react';
import { Field } from '../design/fields.js';
import { useFaults } from '../design/form.js';
import type { Check } from './code-checks.js';

/** A number with a check digit: what is wrong with it stands beside it while it is typed, and the form does not go out with it. */
export function CheckedField({
  name,
  label,
  hint,
  right,
  check,
  initial,
}: {
  name: string;
  label: string;
  hint: string;
  /** What the hint says of a number that is right. */
  right: string;
  check: Check;
  initial: string;
}) {
  const [text, setText] = useState(initial);
  const input = useRef<HTMLInputElement>(null);
  const refused = useFaults(name).faults.length > 0;
  const fault = check(text.trim());
  useEffect(() => input.current?.setCustomValidity(fault ?? ''), [fault]);
  const says = text.trim() === '' ? hint : (fault ?? right);
  return (
    <Field
      name={name}
      label={label}
      hint={fault === null || refused ? fault === null ? says : hint : <span className="typed-fault">{says}</span>}
    >
      {(wiring) => (
        <input
          {...wiring}
          ref={input}
          className="code"
          inputMode="numeric"
          autoComplete="off"
          maxLength={20}
          aria-invalid={wiring['aria-invalid'] || fault !== null}
          value={text}
          onChange={(event) => setText(event.target.value)}
        />
      )}
    </Field>
  );
}
