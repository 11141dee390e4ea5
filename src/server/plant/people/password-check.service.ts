import { Inject, Injectable } from '@nestjs/common';
import { Clock } from '../../platform/clock.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { CommandGate } from '../../platform/database/gate.js';
import { Reader } from '../../platform/database/reader.js';
import { accountOf, setPasswordHash } from './accounts.store.js';
import { clearFailures, countFailure, hasFailures, lockedUntil } from './lockout.store.js';
import { costOf, decoyHash, hashPassword, passwordFits } from './passwords.js';
import type { PersonState } from './people.facts.js';
import { personState } from './people.query.js';

/** Fits, or does not; and until when the code is locked, which makes even the right password not fit. */
export type PasswordVerdict = { readonly person: PersonState } | { readonly person: null; readonly lockedUntil: string | null };

/** Compares a password, counts wrong ones and locks. The same answer and the same time for a person who does not exist. */
@Injectable()
export class PasswordCheck {
  /** One check at a time for one code: tries sent all at once must not all slip in before the first is counted. */
  readonly #turns = new Map<string, Promise<unknown>>();

  constructor(
    private readonly gate: CommandGate,
    private readonly reader: Reader,
    @Inject(Clock) private readonly clock: Clock,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  check(person: string, password: string): Promise<PasswordVerdict> {
    const before = this.#turns.get(person) ?? Promise.resolve();
    const turn = before.then(() => this.#check(person, password));
    const settled: Promise<unknown> = turn
      .catch(() => undefined)
      .finally(() => {
        if (this.#turns.get(person) === settled) this.#turns.delete(person);
      });
    this.#turns.set(person, settled);
    return turn;
  }

  async #check(person: string, password: string): Promise<PasswordVerdict> {
    const tx = this.reader.manager;
    const locked = await lockedUntil(tx, person, this.clock.now());
    if (locked !== null) return { person: null, lockedUntil: locked };
    const state = await personState(tx, person);
    const stored = (await accountOf(tx, person))?.passwordHash ?? null;
    const fits = await passwordFits(password, stored ?? decoyHash(this.config.scryptCost));
    if (!fits || !state || state.blocked || stored === null) {
      const until = await this.gate.run((write) => countFailure(write, person, this.clock.now()));
      return { person: null, lockedUntil: until };
    }
    await this.#settle(person, password, stored);
    return { person: state };
  }

  /** Wrong tries before a right one are forgotten, and a hash of another cost is made anew. */
  async #settle(person: string, password: string, stored: string): Promise<void> {
    const failed = await hasFailures(this.reader.manager, person);
    const anew = costOf(stored) === this.config.scryptCost ? null : await hashPassword(password, this.config.scryptCost);
    if (!failed && anew === null) return;
    await this.gate.run(async (tx) => {
      await clearFailures(tx, person);
      if (anew !== null) await setPasswordHash(tx, person, anew, this.clock.now());
    });
  }
}
