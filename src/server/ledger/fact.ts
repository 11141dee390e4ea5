/** Something that has happened. `v` is the version of its meaning: a new meaning is a new `v`, old bodies are never rewritten. */
export interface Fact {
  readonly kind: string;
  readonly v: number;
}

/** A fact as it stands in the ledger. */
export interface Recorded<F extends Fact = Fact> {
  readonly seq: number;
  readonly at: string;
  readonly actor: string;
  readonly fact: F;
}

/** The hash before the first entry: 64 zeros. */
export const GENESIS = '0'.repeat(64);
