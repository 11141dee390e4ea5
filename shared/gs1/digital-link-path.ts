import { applicationIdentifier } from './application-identifiers.js';

/** Whether the shorter list is in the longer one, in its order. */
function inOrder(some: readonly string[], all: readonly string[]): boolean {
  let from = 0;
  for (const one of some) {
    const found = all.indexOf(one, from);
    if (found < 0) return false;
    from = found + 1;
  }
  return true;
}

/**
 * The alternatives of qualifiers that a path of a Digital Link follows: for a GTIN, `22,10,21` and `235`. Empty when it follows none, so
 * that the path is not allowed; a key without qualifiers that may have none follows one of none.
 */
export function alternativesOf(key: string, qualifiers: readonly string[]): (readonly string[])[] {
  const known = applicationIdentifier(key)?.qualifiers ?? null;
  if (known === null) return [];
  if (qualifiers.length === 0) return known.length === 0 ? [[]] : [...known];
  return known.filter((alternative) => inOrder(qualifiers, alternative));
}
