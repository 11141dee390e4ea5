import { Reasons } from '../../../../shared/refusal.js';
import {
  type PersonAdded,
  type PersonBlocked,
  type PersonRolesChanged,
  type PersonState,
  type PersonUnblocked,
  type Role,
  ROLES,
} from './people.facts.js';

/** Shortest password. Length is what counts; nothing is asked about kinds of characters (NIST SP 800-63B-4 section 3.1.1.2, from memory). */
const SHORTEST_PASSWORD = 12;

/** What a decision about a person rests on. */
export interface PeopleState {
  /** Undefined for a code nobody has. */
  readonly person: PersonState | undefined;
  /** Persons who can act as administrator now. */
  readonly administrators: readonly string[];
}

/**
 * A new password: long enough, and not the person's own code, alone or repeated.
 * @throws Refusal password-too-short, password-is-code
 * @see docs/rules/people.md P-4
 */
export function checkPassword(person: string, password: string, pointer: string): void {
  const no = new Reasons();
  passwordFaults(no, person, password, pointer);
  no.throwIfAny();
}

function passwordFaults(no: Reasons, person: string, password: string, pointer: string): void {
  const length = [...password].length;
  if (length < SHORTEST_PASSWORD) {
    no.conflict('password-too-short', `a password has at least ${SHORTEST_PASSWORD} characters; this has ${length}`, { pointer });
  }
  if (password.toLowerCase().replaceAll(person.toLowerCase(), '').trim() === '') {
    no.conflict('password-is-code', "a password must not be the person's own code", { pointer });
  }
}

/** Roles in the order of ROLES, each once: two orders of one set must not be two records. */
const ordered = (roles: readonly Role[]): Role[] => ROLES.filter((role) => roles.includes(role));

/** The auditor changes nothing, so the role cannot stand beside one that does. */
function rolesFaults(no: Reasons, roles: readonly Role[]): void {
  if (roles.includes('auditor') && roles.some((role) => role !== 'auditor')) {
    no.conflict('auditor-stands-alone', 'an auditor changes nothing, so the role cannot be held together with another', {
      pointer: '/roles',
    });
  }
}

/**
 * A person is added under a code that stays theirs for good.
 * @param password undefined for a person who only uses keys
 * @throws Refusal person-exists, auditor-stands-alone, password-too-short, password-is-code
 * @see docs/rules/people.md P-3, P-4
 */
export function decideAddPerson(
  command: { readonly person: string; readonly roles: readonly Role[]; readonly password?: string | undefined },
  state: Pick<PeopleState, 'person'>,
): PersonAdded {
  const no = new Reasons();
  if (state.person) {
    no.conflict('person-exists', `${command.person} is someone already; a code is never given to another person`, { pointer: '/person' });
  }
  rolesFaults(no, command.roles);
  if (command.password !== undefined) passwordFaults(no, command.person, command.password, '/password');
  no.throwIfAny();
  return { kind: 'PersonAdded', v: 1, person: command.person, roles: ordered(command.roles) };
}

/**
 * A person's roles are set anew.
 * @throws Refusal person-unknown, auditor-stands-alone, last-administrator
 * @see docs/rules/people.md P-3
 */
export function decideChangeRoles(
  command: { readonly person: string; readonly roles: readonly Role[]; readonly reason: string },
  state: PeopleState,
): PersonRolesChanged {
  const no = new Reasons();
  if (!state.person) no.unknown('person-unknown', `no person ${command.person}`);
  rolesFaults(no, command.roles);
  if (!command.roles.includes('administrator')) keepOneAdministrator(no, command.person, state);
  no.throwIfAny();
  return { kind: 'PersonRolesChanged', v: 1, person: command.person, roles: ordered(command.roles), reason: command.reason };
}

/**
 * A person can no longer sign in, sign, or use a key.
 * @throws Refusal person-unknown, already-blocked, last-administrator
 * @see docs/rules/people.md P-8
 */
export function decideBlockPerson(command: { readonly person: string; readonly reason: string }, state: PeopleState): PersonBlocked {
  const no = new Reasons();
  if (!state.person) no.unknown('person-unknown', `no person ${command.person}`);
  if (state.person?.blocked) no.conflict('already-blocked', `${command.person} is blocked already`);
  keepOneAdministrator(no, command.person, state);
  no.throwIfAny();
  return { kind: 'PersonBlocked', v: 1, person: command.person, reason: command.reason };
}

/**
 * A blocked person may act again.
 * @throws Refusal person-unknown, not-blocked
 * @see docs/rules/people.md P-8
 */
export function decideUnblockPerson(
  command: { readonly person: string; readonly reason: string },
  state: Pick<PeopleState, 'person'>,
): PersonUnblocked {
  const no = new Reasons();
  if (!state.person) no.unknown('person-unknown', `no person ${command.person}`);
  else if (!state.person.blocked) no.conflict('not-blocked', `${command.person} is not blocked`);
  no.throwIfAny();
  return { kind: 'PersonUnblocked', v: 1, person: command.person, reason: command.reason };
}

/** Without an administrator nobody could let anyone in again. */
function keepOneAdministrator(no: Reasons, person: string, state: PeopleState): void {
  if (state.administrators.length === 1 && state.administrators[0] === person) {
    no.conflict('last-administrator', `${person} is the only administrator: make another one first`);
  }
}

/**
 * Whether a key may be made for a person, in all their roles (null) or in one.
 * @throws Refusal person-unknown, person-blocked, role-not-held
 * @see docs/rules/people.md P-7
 */
export function checkKey(command: { readonly person: string; readonly role: Role | null }, person: PersonState | undefined): void {
  const no = new Reasons();
  if (!person) no.unknown('person-unknown', `no person ${command.person}`, { pointer: '/person' });
  if (person?.blocked) no.conflict('person-blocked', `${command.person} is blocked`, { pointer: '/person' });
  if (person && command.role !== null && !person.roles.includes(command.role)) {
    no.conflict(
      'role-not-held',
      `${command.person} is ${person.roles.join(', ')}, not ${command.role}: a key gives no more than its person has`,
      {
        pointer: '/role',
      },
    );
  }
  no.throwIfAny();
}
