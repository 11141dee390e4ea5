import { useEffect, useRef, useState } from 'react';
import { useFaults } from '../design/form.js';
import type { Check } from './code-checks.js';

/** What the form said against a field, as long as the text it was said of still stands there. */
function useRefused(name: string, text: string): { id: string; refused: string } {
  const { id, faults } = useFaults(name);
  const says = faults.map(({ detail }) => detail).join('; ');
  const [said, setSaid] = useState({ says, text });
  if (said.says !== says) setSaid({ says, text });
  return { id, refused: said.text === text ? says : '' };
}

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
  const typed = text.trim();
  const { id, refused } = useRefused(name, typed);
  const wrong = check(typed);
  useEffect(() => input.current?.setCustomValidity(wrong ?? ''), [wrong]);
  const fault = wrong ?? refused;
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input
        ref={input}
        id={id}
        name={name}
        className="code"
        inputMode="numeric"
        autoComplete="off"
        maxLength={20}
        aria-invalid={fault !== ''}
        aria-describedby={fault === '' ? `${id}-hint` : `${id}-hint ${id}-fault`}
        value={text}
        onChange={(event) => setText(event.target.value)}
      />
      <span className="hint" id={`${id}-hint`}>
        {typed === '' || fault !== '' ? hint : right}
      </span>
      {fault === '' ? null : (
        <span className="fault" id={`${id}-fault`}>
          {fault}
        </span>
      )}
    </div>
  );
}
