import { Reasons } from '../../../../shared/refusal.js';

/** Shortest password; length is what counts, so nothing is asked about kinds of characters (NIST SP 800-63B, from memory). */
export const SHORTEST_PASSWORD = 12;

/**
 * A new password: long enough, and not the person's own code, alone or repeated.
 * @throws Refusal password-too-short, password-is-code
 * @see docs/rules/people.md P-4
 */
export function checkPassword(person: string, password: string, pointer: string): void {
  const no = new Reasons();
  passwordFaults(no, person, password, pointer);
  no.throwIfAny();
}

function passwordFaults(no: Reasons, person: string, password: string, pointer: string): void {
  const length = [...password].length;
  if (length < SHORTEST_PASSWORD) {
    no.conflict('password-too-short', `a password has at least ${SHORTEST_PASSWORD} characters; this has ${length}`, { pointer });
  }
  if (password.toLowerCase().replaceAll(person.toLowerCase(), '').trim() === '') {
    no.conflict('password-is-code', "a password must not be the person's own code", { pointer });
  }
}
