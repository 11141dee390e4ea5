import type { PlantFact } from '../stock/effects.facts.js';

/** What a person does in the plant. The auditor reads everything and changes nothing. */
export const ROLES = ['clerk', 'operator', 'inspector', 'quality', 'dispatcher', 'recall-lead', 'auditor', 'administrator'] as const;
export type Role = (typeof ROLES)[number];

/** A person may act in the record. Only the code is kept here: the name stands beside the ledger and can be erased. */
export type PersonAdded = PlantFact & {
  readonly kind: 'PersonAdded';
  readonly v: 1;
  readonly person: string;
  readonly roles: readonly Role[];
};

export type PersonRolesChanged = PlantFact & {
  readonly kind: 'PersonRolesChanged';
  readonly v: 1;
  readonly person: string;
  readonly roles: readonly Role[];
  readonly reason: string;
};

/** The person can no longer sign in, sign or use a key; what they did stays theirs. */
export type PersonBlocked = PlantFact & {
  readonly kind: 'PersonBlocked';
  readonly v: 1;
  readonly person: string;
  readonly reason: string;
};

export type PersonUnblocked = PlantFact & {
  readonly kind: 'PersonUnblocked';
  readonly v: 1;
  readonly person: string;
  readonly reason: string;
};

/** An administrator gave someone a new password: whoever reads a signature later must be able to see that. */
export type PersonPasswordReset = PlantFact & {
  readonly kind: 'PersonPasswordReset';
  readonly v: 1;
  readonly person: string;
};

/** A key that acts as a person, in all their roles (null) or in one. */
export type KeyMade = PlantFact & {
  readonly kind: 'KeyMade';
  readonly v: 1;
  readonly key: string;
  readonly person: string;
  readonly role: Role | null;
};

export type KeyRevoked = PlantFact & {
  readonly kind: 'KeyRevoked';
  readonly v: 1;
  readonly key: string;
  readonly person: string;
};

/** A person as the ledger knows them. */
export interface PersonState {
  readonly person: string;
  readonly roles: readonly Role[];
  readonly blocked: boolean;
}
