import { because, listed } from '../telling/words.facts.js';
import type {
  KeyMade,
  KeyRevoked,
  PersonAdded,
  PersonBlocked,
  PersonPasswordReset,
  PersonRolesChanged,
  PersonUnblocked,
} from './people.facts.js';

export const sayPeople = {
  PersonAdded: (fact: PersonAdded): string => `${fact.person} may act as ${listed(fact.roles)}`,
  PersonRolesChanged: (fact: PersonRolesChanged): string => `${fact.person} may now act as ${listed(fact.roles)}${because(fact.reason)}`,
  PersonBlocked: (fact: PersonBlocked): string => `${fact.person} can no longer sign in${because(fact.reason)}`,
  PersonUnblocked: (fact: PersonUnblocked): string => `${fact.person} can sign in again${because(fact.reason)}`,
  PersonPasswordReset: (fact: PersonPasswordReset): string => `${fact.person} was given a new password`,
  KeyMade: (fact: KeyMade): string =>
    `Key ${fact.key} made, which acts as ${fact.person}${fact.role === null ? '' : ` in the role ${fact.role} only`}`,
  KeyRevoked: (fact: KeyRevoked): string => `Key ${fact.key} of ${fact.person} revoked`,
};
