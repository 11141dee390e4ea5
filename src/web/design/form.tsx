import { createContext, type ReactNode, type SyntheticEvent, useContext, useEffect, useId, useRef, useState } from 'react';
import type { Reason } from '../../../shared/refusal.js';
import type { Problem } from '../wire/problem.js';
import { FormValues } from './form-values.js';
import { ReasonLine, WaysOut } from './refused.js';

interface Faults {
  readonly form: string;
  readonly reasons: readonly Reason[];
}
const FaultsOfForm = createContext<Faults>({ form: '', reasons: [] });

const pointerOf = (reason: Reason): string | null => (typeof reason['pointer'] === 'string' ? reason['pointer'] : null);
const idOf = (form: string, name: string): string => `${form}${name.replaceAll(/[^\w]/gu, '-')}`;

/** The reasons against the field of that name, or against anything within it. */
export function useFaults(name: string): { id: string; faults: readonly Reason[] } {
  const { form, reasons } = useContext(FaultsOfForm);
  const faults = reasons.filter((reason) => {
    const pointer = pointerOf(reason);
    return pointer === name || pointer?.startsWith(`${name}/`) === true;
  });
  return { id: idOf(form, name), faults };
}

type Control = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;

/** The reasons against a part of a form as a whole, as a line of a paper, and not against one of its fields. */
export function useFaultsOfWhole(name: string): { id: string; faults: readonly Reason[] } {
  const { id, faults } = useFaults(name);
  return { id, faults: faults.filter((reason) => pointerOf(reason) === name) };
}

/** What the browser finds wrong with a field, in our words, which name the field. */
function faultOf(control: Control): string | null {
  const { validity } = control;
  if (validity.valid) return null;
  const label = control.labels?.[0]?.textContent ?? control.getAttribute('aria-label') ?? control.name;
  if (validity.valueMissing) return `${label} is missing`;
  if (validity.patternMismatch) return `${label}: ${control.title || 'not written as it should be'}`;
  if (validity.rangeUnderflow || validity.rangeOverflow || validity.stepMismatch || validity.badInput)
    return `${label} is not a number that fits here`;
  if (validity.tooShort) return `${label} is too short`;
  return `${label}: ${control.validationMessage}`;
}

function faultsOf(form: HTMLFormElement): Reason[] {
  const controls = [...form.elements].filter((one): one is Control => 'validity' in one && 'name' in one && one.name !== '');
  return controls.flatMap((control) => {
    const detail = faultOf(control);
    return detail === null ? [] : [{ code: 'not-filled-in', detail, pointer: control.name }];
  });
}

/**
 * A form that loses nothing and says every fault: what the browser finds and what the server refuses stand beside their fields and in
 * a summary that takes focus, each with a way to its field.
 */
export function Form({
  onSubmit,
  problem,
  check,
  children,
  label,
}: {
  /** Called once what was typed is complete. */
  onSubmit: (values: FormValues, form: HTMLFormElement) => void;
  /** What the server said last. */
  problem: Problem | null;
  /** Faults that only this form knows of. */
  check?: (values: FormValues) => Reason[];
  children: ReactNode;
  label?: string;
}) {
  const form = useId();
  const [own, setOwn] = useState<readonly Reason[]>([]);
  const summary = useRef<HTMLDivElement>(null);
  const reasons = own.length > 0 ? own : (problem?.reasons ?? []);
  const title = own.length > 0 ? 'Not complete yet' : (problem?.title ?? '');
  useEffect(() => {
    if (own.length > 0 || problem !== null) summary.current?.focus();
  }, [own, problem]);

  function submit(event: SyntheticEvent<HTMLFormElement>): void {
    event.preventDefault();
    event.stopPropagation(); // a form in a dialog is inside another's tree
    const element = event.currentTarget;
    const values = new FormValues(new FormData(element));
    const found = [...faultsOf(element), ...(check?.(values) ?? [])];
    setOwn(found);
    if (found.length === 0) onSubmit(values, element);
  }
  const go =
    (name: string) =>
    (event: SyntheticEvent): void => {
      event.preventDefault();
      document.getElementById(idOf(form, name))?.focus();
    };
  const fieldNames = reasons.map((reason) => pointerOf(reason));
  return (
    <FaultsOfForm.Provider value={{ form, reasons }}>
      <form className="form" noValidate onSubmit={submit} aria-label={label}>
        {title === '' ? null : (
          <div className="summary" role="alert" tabIndex={-1} ref={summary}>
            <h2>{title}</h2>
            {reasons.length === 0 ? (
              <p>{problem?.detail}</p>
            ) : (
              <ul>
                {reasons.map((reason, i) => {
                  const name = fieldNames[i];
                  return (
                    <li key={`${name} ${reason.code} ${reason.detail}`}>
                      {name ? (
                        <>
                          <a href={`#${idOf(form, name)}`} onClick={go(name)}>
                            {reason.detail}
                          </a>
                          <WaysOut reason={reason} />
                        </>
                      ) : (
                        <ReasonLine reason={reason} />
                      )}
                    </li>
                  );
                })}
              </ul>
            )}
          </div>
        )}
        {children}
      </form>
    </FaultsOfForm.Provider>
  );
}
