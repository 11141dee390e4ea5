import type { EntityManager } from 'typeorm';
import { minutesAfter } from '../../platform/clock.js';
import { insertRows, queryRows } from '../../platform/database/rows.js';

/** So many wrong passwords in a row before the code is locked. */
export const TRIES = 5;
const LONGEST_MINUTES = 60;
/** A failure this old is forgotten. */
const FORGOTTEN_MINUTES = 24 * 60;

interface Row {
  failures: number;
  last_at: string;
  locked_until: string | null;
}

/** Until when a code is locked, or null. A code that is nobody's locks in the same way, so a lock tells nothing. */
export async function lockedUntil(tx: EntityManager, person: string, at: string): Promise<string | null> {
  const [row] = await queryRows<Row>(tx, 'SELECT * FROM "sign_in_failure" WHERE "person" = ?', [person]);
  return row?.locked_until != null && row.locked_until > at ? row.locked_until : null;
}

export async function hasFailures(tx: EntityManager, person: string): Promise<boolean> {
  return (await queryRows(tx, 'SELECT 1 AS "one" FROM "sign_in_failure" WHERE "person" = ?', [person])).length > 0;
}

/** Minutes of lock after so many failures: 1, 2, 4 … 60 from the fifth on, 0 before. */
export const lockMinutes = (failures: number): number =>
  failures < TRIES ? 0 : Math.min(2 ** Math.min(failures - TRIES, 10), LONGEST_MINUTES);

/** Counts a wrong password. In the database, so that several server processes agree. Answers until when the code is now locked. */
export async function countFailure(tx: EntityManager, person: string, at: string): Promise<string | null> {
  await queryRows(tx, 'DELETE FROM "sign_in_failure" WHERE "last_at" < ?', [minutesAfter(at, -FORGOTTEN_MINUTES)]);
  const [row] = await queryRows<Row>(tx, 'SELECT * FROM "sign_in_failure" WHERE "person" = ?', [person]);
  const failures = (row?.failures ?? 0) + 1;
  const minutes = lockMinutes(failures);
  const until = minutes === 0 ? null : minutesAfter(at, minutes);
  await clearFailures(tx, person);
  await insertRows(tx, 'sign_in_failure', ['person', 'failures', 'last_at', 'locked_until'], [[person, failures, at, until]]);
  return until;
}

export async function clearFailures(tx: EntityManager, person: string): Promise<void> {
  await queryRows(tx, 'DELETE FROM "sign_in_failure" WHERE "person" = ?', [person]);
}
