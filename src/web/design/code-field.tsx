import { Autocomplete } from '@base-ui/react/autocomplete';
import { type ReactNode, useState } from 'react';
import { Field } from './fields.js';
import './code-field.css';

export interface Choice {
  readonly code: string;
  /** Its name, or whatever tells it from the others. */
  readonly says: string;
}

/** Drawn at once; the rest is found by typing. */
const MOST_SHOWN = 50;

const matches = (choice: Choice, typed: string): boolean => {
  const text = typed.trim().toLowerCase();
  return text === '' || choice.code.toLowerCase().includes(text) || choice.says.toLowerCase().includes(text);
};

/**
 * A code, typed, scanned or picked from a list that is searched by code and by name. What stands in it is the text itself: a code that is
 * not in the list can be typed, and the server says what it thinks of it.
 */
export function CodeField({
  name,
  label,
  hint,
  choices,
  required,
  value,
  initial = '',
  onValue,
}: {
  name: string;
  label: string;
  hint?: ReactNode;
  choices: readonly Choice[];
  required?: boolean;
  /** The text, where the form keeps it; otherwise the field does, from `initial`. */
  value?: string;
  initial?: string;
  onValue?: (text: string) => void;
}) {
  const [own, setOwn] = useState(initial);
  const text = value ?? own;
  const chosen = choices.find(({ code }) => code === text.trim());
  const says = chosen && chosen.says !== '' ? chosen.says : hint;
  return (
    <Field name={name} label={label} hint={says}>
      {(wiring) => (
        <Autocomplete.Root
          items={choices}
          limit={MOST_SHOWN}
          value={text}
          onValueChange={(next, { reason }) => {
            if (reason === 'escape-key') return; // Escape closes the list; it does not take away what was typed
            setOwn(next);
            onValue?.(next);
          }}
          itemToStringValue={(choice: Choice) => choice.code}
          filter={matches}
          openOnInputClick
        >
          <Autocomplete.Input
            {...wiring}
            className="code"
            required={required}
            spellCheck={false}
            autoCapitalize="off"
            autoCorrect="off"
            autoComplete="off"
          />
          <Autocomplete.Portal>
            <Autocomplete.Positioner sideOffset={3} align="start" className="choices-place">
              <Autocomplete.Popup className="choices">
                <Autocomplete.List>
                  {(choice: Choice) => (
                    <Autocomplete.Item key={choice.code} value={choice} className="choice">
                      <code>{choice.code}</code> <span>{choice.says}</span>
                    </Autocomplete.Item>
                  )}
                </Autocomplete.List>
              </Autocomplete.Popup>
            </Autocomplete.Positioner>
          </Autocomplete.Portal>
        </Autocomplete.Root>
      )}
    </Field>
  );
}
