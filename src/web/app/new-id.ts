/** A new id for a command. Tablets on plain HTTP have no `crypto.randomUUID`, but they have this. */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
