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

/**
 * State that outlives a reload: what a person is in the middle of typing. Never for passwords.
 * @param name of the draft, with the person's code in it: tablets are shared
 */
export function useDraft<Draft>(name: string, initial: Draft): [Draft, (next: Draft | ((before: Draft) => Draft)) => void, () => void] {
  const [draft, setDraft] = useState<Draft>(() => stored<Draft>(name) ?? initial);
  useEffect(() => {
    try {
      localStorage.setItem(keyOf(name), JSON.stringify(draft));
    } catch {
      // no room or no permission: the page still works, only a reload would lose the draft
    }
  }, [name, draft]);
  const clear = useCallback(() => setDraft(initial), [initial]);
  return [draft, setDraft, clear];
}
