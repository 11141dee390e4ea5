/** One ground for a refusal: a code a program can read, a sentence a person can, and the facts it rests on. */
export interface Reason {
  code: string;
  detail: string;
  [fact: string]: unknown;
}

/** What sort of no it is: nothing of that name, against a rule, not this person's to do, not understood, or a file with bad rows. */
export type RefusalKind = 'unknown' | 'conflict' | 'forbidden' | 'malformed' | 'faulty-file';

/** The trade saying no, with every reason at once. It knows nothing of HTTP; one filter turns it into an answer. */
export class Refusal extends Error {
  override readonly name = 'Refusal';

  constructor(
    readonly kind: RefusalKind,
    readonly reasons: readonly Reason[],
  ) {
    super(reasons.map((reason) => reason.detail).join('; ') || kind);
  }
}

/** Gathers every reason against a command, so that a person hears them all at once and not one per attempt. */
export class Reasons {
  readonly #found: { kind: RefusalKind; reason: Reason }[] = [];

  /** Something the command names does not exist. */
  unknown(code: string, detail: string, facts?: Readonly<Record<string, unknown>>): void {
    this.#add('unknown', code, detail, facts);
  }

  /** The command goes against a rule or against how things stand. */
  conflict(code: string, detail: string, facts?: Readonly<Record<string, unknown>>): void {
    this.#add('conflict', code, detail, facts);
  }

  /** The person may not do this. */
  forbidden(code: string, detail: string, facts?: Readonly<Record<string, unknown>>): void {
    this.#add('forbidden', code, detail, facts);
  }

  /** A value cannot be understood: no date, no quantity, no span. */
  malformed(code: string, detail: string, facts?: Readonly<Record<string, unknown>>): void {
    this.#add('malformed', code, detail, facts);
  }

  /**
   * Takes over what another collector found, in its order; `facts` are added to each reason that does not say otherwise, such as a
   * pointer to the line it is about.
   */
  takeOver(found: Reasons, facts: Readonly<Record<string, unknown>> = {}): void {
    for (const { kind, reason } of found.#found) this.#found.push({ kind, reason: { ...facts, ...reason } });
  }

  /** Whether anything stands against the command. */
  get any(): boolean {
    return this.#found.length > 0;
  }

  /** The reasons found so far, in the order they were found. */
  get list(): readonly Reason[] {
    return this.#found.map(({ reason }) => reason);
  }

  /**
   * Ends the check.
   * @throws Refusal with all reasons when there is any; its kind is `forbidden` if any reason is, else `malformed` if any is, else
   * `unknown` if all are, else `conflict`
   */
  throwIfAny(): void {
    if (this.any) throw new Refusal(this.#kind(), this.list);
  }

  #add(kind: RefusalKind, code: string, detail: string, facts: Readonly<Record<string, unknown>> = {}): void {
    this.#found.push({ kind, reason: { ...facts, code, detail } });
  }

  #kind(): RefusalKind {
    if (this.#found.some(({ kind }) => kind === 'forbidden')) return 'forbidden';
    if (this.#found.some(({ kind }) => kind === 'malformed')) return 'malformed';
    return this.#found.every(({ kind }) => kind === 'unknown') ? 'unknown' : 'conflict';
  }
}
