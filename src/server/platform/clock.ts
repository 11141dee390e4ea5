/** The one place that asks the machine what time it is. Everything else is handed the time. */
export abstract class Clock {
  /** Now, as UTC ISO 8601 with milliseconds (24 characters). */
  abstract now(): string;
}

export class MachineClock extends Clock {
  now(): string {
    return new Date().toISOString();
  }
}

/** A clock that stands where it was put: the demonstration and the tests set it. */
export class SetClock extends Clock {
  #at: string;

  constructor(at: string) {
    super();
    this.#at = at;
  }

  now(): string {
    return this.#at;
  }

  set(at: string): void {
    this.#at = at;
  }
}

/** A clock that goes on from an instant at the machine's pace: the demonstration, whose days are over, lives on in them. */
export class ResumedClock extends Clock {
  readonly #behindMs: number;

  constructor(from: string) {
    super();
    this.#behindMs = Date.now() - Date.parse(from);
  }

  now(): string {
    return new Date(Date.now() - this.#behindMs).toISOString();
  }
}

/** An instant as the `Date` of an HTTP answer (RFC 9110, 5.6.7): whole seconds, never later than it was. */
export const httpDate = (at: string): string => new Date(at).toUTCString();

/** The instant so many minutes after another (before, when negative), both ISO 8601 UTC with milliseconds. */
export const minutesAfter = (at: string, minutes: number): string => new Date(Date.parse(at) + minutes * 60_000).toISOString();
