import { Inject, Injectable } from '@nestjs/common';
import { Refusal } from '../../../../shared/refusal.js';
import { Clock } from '../../platform/clock.js';
import { PasswordCheck } from './password-check.service.js';
import { type Signature, Signatures } from './signature.js';

@Injectable()
export class PasswordSignatures extends Signatures {
  constructor(
    private readonly passwords: PasswordCheck,
    @Inject(Clock) private readonly clock: Clock,
  ) {
    super();
  }

  /** @see docs/rules/people.md P-9 */
  async sign(person: string, password: string, meaning: string): Promise<Signature> {
    const verdict = await this.passwords.check(person, password);
    if (verdict.person) return { by: person, at: this.clock.now(), meaning };
    const detail =
      verdict.lockedUntil === null
        ? 'the password is wrong: nothing was signed'
        : `too many wrong passwords: ${person} cannot sign before ${verdict.lockedUntil}`;
    throw new Refusal('forbidden', [
      { code: 'signature-refused', detail, pointer: '/password', ...(verdict.lockedUntil && { lockedUntil: verdict.lockedUntil }) },
    ]);
  }
}
