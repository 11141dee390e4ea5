import { useCallback, useEffect, useState } from 'react';

const keyOf = (name: string): string => `kinledger draft ${name}`;

function stored<Draft>(name: string): Draft | null {
  try {
    const text = localStorage.getItem(keyOf(name));
    return text === null ? null : (JSON.parse(text) as Draft);
  } catch {
    return null; // storage is off, or something else wrote there
  }
}

function store<Draft>(name: string, draft: Draft): void {
  try {
    localStorage.setItem(keyOf(name), JSON.stringify(draft));
  } catch {
    // no room or no permission: the page still works, only a reload would lose the draft
  }
}

/**
 * State that outlives a reload: what a person is in the middle of typing. Never for passwords.
 * @param name of the draft, with the person's code in it: tablets are shared. Under another name another draft is taken up.
 */
export function useDraft<Draft>(name: string, initial: Draft): [Draft, (next: Draft | ((before: Draft) => Draft)) => void, () => void] {
  const [held, setHeld] = useState(() => ({ name, draft: stored<Draft>(name) ?? initial }));
  // The same page may come to stand before another record: what was typed for the one before stays with that one.
  const own = held.name === name ? held : { name, draft: stored<Draft>(name) ?? initial };
  if (own !== held) setHeld(own);
  const { draft } = own;
  useEffect(() => store(name, draft), [name, draft]);
  const setDraft = useCallback(
    (next: Draft | ((before: Draft) => Draft)) =>
      setHeld((before) => {
        if (before.name !== name) return before;
        return { name, draft: typeof next === 'function' ? (next as (before: Draft) => Draft)(before.draft) : next };
      }),
    [name],
  );
  // Stored at once: who clears a draft often leaves the page in the same breath, and no effect would run any more.
  const clear = useCallback(() => {
    store(name, initial);
    setDraft(initial);
  }, [name, initial, setDraft]);
  return [draft, setDraft, clear];
}
