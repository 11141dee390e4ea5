/** A quality decision signed: the password was given again at that moment, and the record says what the signature means. */
export interface Signature {
  readonly by: string;
  /** ISO 8601 UTC instant. */
  readonly at: string;
  /** What the signer declares, in words shown before signing. */
  readonly meaning: string;
}

/** Checks a password given again. Implemented by the people feature; handed to those whose decisions need it. */
export abstract class Signatures {
  /**
   * Call before the command gate: checking takes a quarter of a second on purpose.
   * @throws Refusal `signature-refused` (forbidden) when the password is wrong or the person is locked out
   */
  abstract sign(person: string, password: string, meaning: string): Promise<Signature>;
}
