import { randomBytes } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { Refusal } from '../../../../shared/refusal.js';
import { Reader } from '../../platform/database/reader.js';
import { Commands, type RecordFacts } from '../commands.js';
import type { Actor, Role } from './access.js';
import { addAccount } from './accounts.store.js';
import { addKey, keyOf, keys, revokeKey } from './keys.store.js';
import { checkKey, decideAddPerson } from './people.decide.js';
import type { CreateKeyDto, KeyView, NewKeyView } from './people.dto.js';
import type { KeyMade, KeyRevoked } from './people.facts.js';
import { personState } from './people.query.js';

/** Who is written down as acting when a command comes from the machine the server runs on. */
export const COMMAND_LINE: Actor = { person: 'command-line', roles: ['administrator'] };

/** Keys for programs. */
@Injectable()
export class KeysService {
  constructor(
    private readonly commands: Commands,
    private readonly reader: Reader,
  ) {}

  /** Makes a key. Not a repeatable command: an answer kept for a retry would keep the key itself. */
  create(actor: Actor, dto: CreateKeyDto): Promise<NewKeyView> {
    return this.commands.run(actor, {}, async (tx, record, at) => {
      checkKey({ person: dto.person, role: dto.role ?? null }, await personState(tx, dto.person));
      return make(tx, record, actor, dto, at);
    });
  }

  /**
   * Makes a key from the command line: whoever can write the database is let in. A person nobody knows yet is added with that
   * one role and without a password, so a program can have a person of its own.
   */
  createKey(person: string, role: Role, label = 'made on the command line'): Promise<NewKeyView> {
    return this.commands.run(COMMAND_LINE, {}, async (tx, record, at) => {
      const known = await personState(tx, person);
      if (known) {
        checkKey({ person, role }, known);
      } else {
        await record([decideAddPerson({ person, roles: [role] }, { person: known })]);
        await addAccount(tx, { person, displayName: null, passwordHash: null }, at);
      }
      return make(tx, record, COMMAND_LINE, { person, role, label }, at);
    });
  }

  list(): Promise<KeyView[]> {
    return keys(this.reader.manager);
  }

  revoke(actor: Actor, id: string): Promise<KeyView> {
    return this.commands.run(actor, {}, async (tx, record, at) => {
      const known = await keyOf(tx, id);
      if (!known) throw new Refusal('unknown', [{ code: 'key-unknown', detail: `no key ${id}` }]);
      if (known.revokedAt !== null) return known;
      const fact: KeyRevoked = { kind: 'KeyRevoked', v: 1, key: id, person: known.person };
      await record([fact]);
      await revokeKey(tx, id, actor.person, at);
      return (await keyOf(tx, id))!;
    });
  }
}

async function make(tx: EntityManager, record: RecordFacts, actor: Actor, dto: CreateKeyDto, at: string): Promise<NewKeyView> {
  const id = `key-${randomBytes(6).toString('hex')}`;
  const fact: KeyMade = { kind: 'KeyMade', v: 1, key: id, person: dto.person, role: dto.role ?? null };
  await record([fact]);
  const key = await addKey(tx, { id, person: dto.person, role: fact.role, label: dto.label, createdBy: actor.person, createdAt: at });
  return { ...(await keyOf(tx, id))!, key };
}
