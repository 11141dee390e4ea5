import type { Role } from '../app/session.js';

/** Every role and what who has it may do, in words. The server decides; `fixtures/access.json` is the table it goes by. */
export const ROLES: readonly { readonly role: Role; readonly title: string; readonly may: string }[] = [
  { role: 'clerk', title: 'Clerk', may: 'logs deliveries and returns, moves and counts stock, sends goods back to suppliers' },
  { role: 'operator', title: 'Operator', may: 'starts, charges and closes runs, empties and cleans vessels, moves and scraps stock' },
  { role: 'inspector', title: 'Inspector', may: 'inspects, tests and gives verdicts, takes retain samples, calibrates instruments' },
  {
    role: 'quality',
    title: 'Quality',
    may: 'releases, holds and does not accept lots, closes nonconformance reports, leads recalls, changes the set-up; signs with the password',
  },
  { role: 'dispatcher', title: 'Dispatcher', may: 'picks and ships, logs returns, counts and moves stock' },
  { role: 'recall-lead', title: 'Recall lead', may: 'opens and leads recalls and drills, tells consignees and keeps their answers' },
  { role: 'auditor', title: 'Auditor', may: 'reads everything, the keys too, and checks the record; changes nothing, so it stands alone' },
  {
    role: 'administrator',
    title: 'Administrator',
    may: 'adds people and keys, changes the set-up, brings records over; may book and run, but not inspect, release or recall',
  },
];

export const roleTitle = (role: string): string => ROLES.find((one) => one.role === role)?.title ?? role;
export const roleMay = (role: string): string => ROLES.find((one) => one.role === role)?.may ?? '';

/** Roles as a list in a sentence. */
export const rolesInWords = (roles: readonly string[]): string => roles.map((role) => roleTitle(role).toLowerCase()).join(', ');
