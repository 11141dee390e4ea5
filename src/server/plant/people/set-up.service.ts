import { randomInt } from 'node:crypto';
import { Inject, Injectable } from '@nestjs/common';
import { Refusal } from '../../../../shared/refusal.js';
import { Clock } from '../../platform/clock.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { CommandGate } from '../../platform/database/gate.js';
import { Commands } from '../commands.js';
import type { Actor } from './access.js';
import { addAccount } from './accounts.store.js';
import { hashPassword } from './passwords.js';
import { checkPassword, decideAddPerson } from './people.decide.js';
import type { PersonView, SetUpDto } from './people.dto.js';
import { administrators, personState } from './people.query.js';
import { dropSetUpCode, keepSetUpCode, setUpCodeHash } from './set-up.store.js';
import { tokenHash } from './tokens.js';

/** No letter or digit that is read for another one: 31 of them, so 20 are 99 bits of chance. */
const ALPHABET = '23456789ABCDEFGHJKMNPQRSTUVWXYZ';
const GROUPS = 4;
const GROUP = 5;

const newCode = (): string =>
  Array.from({ length: GROUPS }, () => Array.from({ length: GROUP }, () => ALPHABET[randomInt(ALPHABET.length)]).join('')).join('-');

/** As typed: with or without dashes, in either case. */
const codeHash = (code: string): string => tokenHash(code.toUpperCase().replaceAll(/[\s-]/g, ''));

/** The first administrator of an installation. There is no default password: whoever can read the server's console begins. */
@Injectable()
export class SetUpService {
  constructor(
    private readonly commands: Commands,
    private readonly gate: CommandGate,
    @Inject(Clock) private readonly clock: Clock,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  /**
   * A new one-time code to print at start while there is no administrator, else null. Earlier codes are void.
   * @see docs/rules/people.md P-6
   */
  prepare(): Promise<string | null> {
    return this.gate.run(async (tx) => {
      if ((await administrators(tx)).length > 0) {
        await dropSetUpCode(tx);
        return null;
      }
      const code = newCode();
      await keepSetUpCode(tx, codeHash(code), this.clock.now());
      return code;
    });
  }

  /** Uses the code: once, for the first administrator, who is written down as having added themself. */
  async setUp(dto: SetUpDto): Promise<PersonView> {
    checkPassword(dto.person, dto.password, '/password');
    const passwordHash = await hashPassword(dto.password, this.config.scryptCost);
    const roles = ['administrator'] as const;
    const actor: Actor = { person: dto.person, roles };
    return this.commands.run(actor, {}, async (tx, record, at) => {
      const kept = await setUpCodeHash(tx);
      if (kept === undefined || kept !== codeHash(dto.code) || (await administrators(tx)).length > 0) {
        const detail = 'this is not the set-up code of the last start, or it was used: start the server again for a new one';
        throw new Refusal('forbidden', [{ code: 'set-up-refused', detail, pointer: '/code' }]);
      }
      await record([decideAddPerson({ person: dto.person, roles, password: dto.password }, { person: await personState(tx, dto.person) })]);
      await addAccount(tx, { person: dto.person, displayName: dto.displayName ?? null, passwordHash }, at);
      await dropSetUpCode(tx);
      return { person: dto.person, displayName: dto.displayName ?? null, roles: [...roles], blocked: false, signsIn: true };
    });
  }
}
