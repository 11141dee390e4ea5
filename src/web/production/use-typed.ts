import { useMe } from '../app/session.js';
import { useDraft } from '../outbox/use-draft.js';

type Fields = Readonly<Record<string, string>>;
const NOTHING: Fields = {};

export interface Typed {
  /** What stands in a field: what was typed, else what the page proposes. */
  text(name: string, proposal?: string): string;
  set(name: string, text: string): void;
  /** What a controlled field needs. */
  wired(name: string, proposal?: string): { name: string; value: string; onChange: (event: { target: { value: string } }) => void };
  clear(): void;
}

/** What somebody is in the middle of typing into a form of the floor, by field: it survives a reload and a flat battery. */
export function useTyped(form: string): Typed {
  const { person } = useMe();
  const [fields, setFields, clear] = useDraft<Fields>(`${person} ${form}`, NOTHING);
  const text = (name: string, proposal = ''): string => fields[name] ?? proposal;
  const set = (name: string, value: string): void => setFields((before) => ({ ...before, [name]: value }));
  return {
    text,
    set,
    wired: (name, proposal) => ({ name, value: text(name, proposal), onChange: ({ target }) => set(name, target.value) }),
    clear,
  };
}
