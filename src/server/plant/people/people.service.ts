import { Inject, Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { Refusal } from '../../../../shared/refusal.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { CommandGate } from '../../platform/database/gate.js';
import { Reader } from '../../platform/database/reader.js';
import { Commands } from '../commands.js';
import type { Actor } from './access.js';
import { accountOf, accounts, addAccount, setDisplayName, setPasswordHash } from './accounts.store.js';
import { clearFailures } from './lockout.store.js';
import { hashPassword } from './passwords.js';
import {
  checkPassword,
  decideAddPerson,
  decideBlockPerson,
  decideChangeRoles,
  decideUnblockPerson,
  type PeopleState,
} from './people.decide.js';
import type { AddPersonDto, ChangeRolesDto, PersonReasonDto, PersonView } from './people.dto.js';
import type { PersonAdded, PersonBlocked, PersonPasswordReset, PersonRolesChanged, PersonUnblocked } from './people.facts.js';
import { administrators, personState, personStates } from './people.query.js';
import { endSessionsOf } from './sessions.store.js';

/** Persons: added, given roles, blocked. What the ledger must know goes there; names and passwords stay beside it. */
@Injectable()
export class PeopleService {
  constructor(
    private readonly commands: Commands,
    private readonly gate: CommandGate,
    private readonly reader: Reader,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  async add(actor: Actor, dto: AddPersonDto): Promise<PersonView> {
    const passwordHash = dto.password === undefined ? null : await hashPassword(dto.password, this.config.scryptCost);
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const fact = decideAddPerson(dto, { person: await personState(tx, dto.person) });
      await record([fact]);
      await addAccount(tx, { person: dto.person, displayName: dto.displayName ?? null, passwordHash }, at);
      return personView(tx, dto.person);
    });
  }

  changeRoles(actor: Actor, person: string, dto: ChangeRolesDto): Promise<PersonView> {
    return this.#change(actor, { ...dto, person }, decideChangeRoles);
  }

  /** Blocks a person and ends their sessions at once; their keys stop with them. */
  block(actor: Actor, person: string, dto: PersonReasonDto): Promise<PersonView> {
    return this.#change(actor, { ...dto, person }, decideBlockPerson, (tx) => endSessionsOf(tx, person));
  }

  unblock(actor: Actor, person: string, dto: PersonReasonDto): Promise<PersonView> {
    return this.#change(actor, { ...dto, person }, decideUnblockPerson);
  }

  /** Gives a person a new password: their sessions end, and wrong tries so far are forgotten. The ledger says who did it. */
  async resetPassword(actor: Actor, person: string, password: string): Promise<PersonView> {
    checkPassword(person, password, '/password');
    const hash = await hashPassword(password, this.config.scryptCost);
    return this.commands.run(actor, {}, async (tx, record, at) => {
      await mustExist(tx, person);
      const fact: PersonPasswordReset = { kind: 'PersonPasswordReset', v: 1, person };
      await record([fact]);
      await setPasswordHash(tx, person, hash, at);
      await endSessionsOf(tx, person);
      await clearFailures(tx, person);
      return personView(tx, person);
    });
  }

  /** Sets or erases what a person is called. */
  setName(person: string, displayName: string | null): Promise<PersonView> {
    return this.gate.run(async (tx) => {
      await mustExist(tx, person);
      await setDisplayName(tx, person, displayName);
      return personView(tx, person);
    });
  }

  async people(): Promise<PersonView[]> {
    const tx = this.reader.manager;
    const known = await accounts(tx);
    return (await personStates(tx)).map((state) => ({
      ...state,
      roles: [...state.roles],
      displayName: known.get(state.person)?.displayName ?? null,
      signsIn: known.get(state.person)?.passwordHash != null,
    }));
  }

  async person(person: string): Promise<PersonView> {
    await mustExist(this.reader.manager, person);
    return personView(this.reader.manager, person);
  }

  #change<C extends (ChangeRolesDto & { person: string }) | (PersonReasonDto & { person: string })>(
    actor: Actor,
    command: C,
    decide: (command: C, state: PeopleState) => PersonAdded | PersonRolesChanged | PersonBlocked | PersonUnblocked,
    also?: (tx: EntityManager) => Promise<void>,
  ): Promise<PersonView> {
    return this.commands.run(actor, command, async (tx, record) => {
      await record([decide(command, { person: await personState(tx, command.person), administrators: await administrators(tx) })]);
      await also?.(tx);
      return personView(tx, command.person);
    });
  }
}

async function mustExist(tx: EntityManager, person: string): Promise<void> {
  if (await personState(tx, person)) return;
  throw new Refusal('unknown', [{ code: 'person-unknown', detail: `no person ${person}` }]);
}

async function personView(tx: EntityManager, person: string): Promise<PersonView> {
  const state = (await personState(tx, person))!;
  const account = await accountOf(tx, person);
  return {
    person,
    displayName: account?.displayName ?? null,
    roles: [...state.roles],
    blocked: state.blocked,
    signsIn: account?.passwordHash != null,
  };
}
