import type { EntityManager } from 'typeorm';
import { minutesAfter } from '../../platform/clock.js';
import { insertRows, queryRows } from '../../platform/database/rows.js';
import type { Actor } from './access.js';
import type { Role } from './people.facts.js';
import { newToken, tokenHash } from './tokens.js';

/** A session not used for this long ends; a used one lives on until its end. A long shift fits, a weekend does not. */
const IDLE_HOURS = 12;
const MOST_DAYS = 7;
/** How often use of a session is written down: not with every request, or every read would be a write. */
const SEEN_MINUTES = 5;

interface FoundSession {
  readonly actor: Actor;
  readonly tokenHash: string;
  readonly endsAt: string;
  /** True when use of it should be written down again. */
  readonly stale: boolean;
}

/**
 * Opens a session and answers its token, which is not stored.
 * @param endsAt left out: the usual times; given: it lives until then, used or not
 */
export async function openSession(tx: EntityManager, person: string, at: string, endsAt?: string): Promise<string> {
  const token = newToken();
  const expires = endsAt ?? minutesAfter(at, IDLE_HOURS * 60);
  await insertRows(
    tx,
    'session',
    ['token_hash', 'person', 'created_at', 'last_seen_at', 'expires_at', 'ends_at'],
    [[tokenHash(token), person, at, at, expires, endsAt ?? minutesAfter(at, MOST_DAYS * 24 * 60)]],
  );
  await queryRows(tx, 'DELETE FROM "session" WHERE "expires_at" < ?', [at]);
  return token;
}

interface Row {
  person: string;
  last_seen_at: string;
  ends_at: string;
  roles: string;
}

/** The session of a token, when it is still good and its person is not blocked. */
export async function findSession(tx: EntityManager, token: string, at: string): Promise<FoundSession | undefined> {
  const hash = tokenHash(token);
  const [row] = await queryRows<Row>(
    tx,
    `SELECT s."person", s."last_seen_at", s."ends_at", p."roles" FROM "session" s JOIN "person" p ON p."code" = s."person"
     WHERE s."token_hash" = ? AND s."expires_at" > ? AND s."ends_at" > ? AND p."blocked" = ?`,
    [hash, at, at, false],
  );
  if (!row) return undefined;
  return {
    actor: { person: row.person, roles: JSON.parse(row.roles) as Role[] },
    tokenHash: hash,
    endsAt: row.ends_at,
    stale: minutesAfter(row.last_seen_at, SEEN_MINUTES) < at,
  };
}

/** Writes down that a session was used, which keeps it open for longer. */
export async function touchSession(tx: EntityManager, hash: string, at: string): Promise<void> {
  const expires = minutesAfter(at, IDLE_HOURS * 60);
  await queryRows(
    tx,
    'UPDATE "session" SET "last_seen_at" = ?, "expires_at" = CASE WHEN "expires_at" > ? THEN "expires_at" ELSE ? END WHERE "token_hash" = ?',
    [at, expires, expires, hash],
  );
}

export async function endSession(tx: EntityManager, hash: string): Promise<void> {
  await queryRows(tx, 'DELETE FROM "session" WHERE "token_hash" = ?', [hash]);
}

/** Ends every session of a person, but for the one that asks. */
export async function endSessionsOf(tx: EntityManager, person: string, exceptHash = ''): Promise<void> {
  await queryRows(tx, 'DELETE FROM "session" WHERE "person" = ? AND "token_hash" <> ?', [person, exceptHash]);
}
