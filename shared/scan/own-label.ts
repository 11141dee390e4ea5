/**
 * Company-internal elements as this plant writes them on its own labels: the Application Identifiers 91 to 99 are each company's to use,
 * so the value begins with a word that no other company's label is likely to begin with.
 * @see docs/decisions/0011-what-a-lot-label-encodes.md
 */
const OWN = { lot: ['91', 'lot='], item: ['92', 'item='], serial: ['93', 'serial='] } as const;

/** What an element of our own names. */
type OwnName = keyof typeof OWN;

/** What a company-internal element of a label of ours names; null for another company's. */
export function readOwn(ai: string, value: string): { name: OwnName; code: string } | null {
  for (const [name, [own, before]] of Object.entries(OWN)) {
    if (ai === own && value.startsWith(before) && value.length > before.length) {
      return { name: name as OwnName, code: value.slice(before.length) };
    }
  }
  return null;
}

/** The element that names a code of ours. */
export function writeOwn(name: OwnName, code: string): { ai: string; value: string } {
  const [ai, before] = OWN[name];
  return { ai, value: `${before}${code}` };
}
