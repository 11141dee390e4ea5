import { HttpException, Inject, Injectable, UnauthorizedException } from '@nestjs/common';
import { Clock } from '../../platform/clock.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { CommandGate } from '../../platform/database/gate.js';
import { Reader } from '../../platform/database/reader.js';
import type { Actor } from './access.js';
import { accountOf, setPasswordHash } from './accounts.store.js';
import { hashPassword } from './passwords.js';
import { PasswordCheck, type PasswordVerdict } from './password-check.service.js';
import { checkPassword } from './people.decide.js';
import type { PersonState } from './people.facts.js';
import type { MeView } from './sign-in.dto.js';
import { endSession, endSessionsOf, openSession } from './sessions.store.js';
import { tokenHash } from './tokens.js';

/** Signing in and out, and one's own password. */
@Injectable()
export class SignInService {
  constructor(
    private readonly passwords: PasswordCheck,
    private readonly gate: CommandGate,
    private readonly reader: Reader,
    @Inject(Clock) private readonly clock: Clock,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  /** Answers the token of a new session. */
  async signIn(person: string, password: string): Promise<{ token: string; me: MeView }> {
    const found = this.#admitted(await this.passwords.check(person, password), 'the code or the password is wrong');
    const token = await this.gate.run((tx) => openSession(tx, person, this.clock.now()));
    return { token, me: await this.me(found) };
  }

  async signOut(token: string): Promise<void> {
    await this.gate.run((tx) => endSession(tx, tokenHash(token)));
  }

  async me(actor: Actor | PersonState): Promise<MeView> {
    const account = await accountOf(this.reader.manager, actor.person);
    const plant = { name: this.config.plantName, demo: this.config.demo };
    return { person: actor.person, displayName: account?.displayName ?? null, roles: [...actor.roles], plant };
  }

  /** Changes one's own password and ends every other session: whoever knew the old one is out. */
  async changePassword(actor: Actor, token: string | undefined, currentPassword: string, newPassword: string): Promise<void> {
    checkPassword(actor.person, newPassword, '/newPassword');
    this.#admitted(await this.passwords.check(actor.person, currentPassword), 'the current password is wrong');
    const hash = await hashPassword(newPassword, this.config.scryptCost);
    await this.gate.run(async (tx) => {
      await setPasswordHash(tx, actor.person, hash, this.clock.now());
      await endSessionsOf(tx, actor.person, token === undefined ? '' : tokenHash(token));
    });
  }

  #admitted(verdict: PasswordVerdict, wrong: string): PersonState {
    if (verdict.person) return verdict.person;
    if (verdict.lockedUntil === null) throw new UnauthorizedException({ reasons: [{ code: 'sign-in-refused', detail: wrong }] });
    const retryAfterSeconds = Math.max(1, Math.ceil((Date.parse(verdict.lockedUntil) - Date.parse(this.clock.now())) / 1000));
    const detail = `too many wrong passwords: try again after ${verdict.lockedUntil}`;
    throw new HttpException({ reasons: [{ code: 'locked-out', detail, lockedUntil: verdict.lockedUntil, retryAfterSeconds }] }, 429);
  }
}
