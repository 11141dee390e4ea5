import { addDays } from '../../../../shared/time.js';

const LAST_DAY = '9999-12-31';

/** A day so many days later, or the last there is. */
const later = (date: string, days: number): string => (date >= '9990-01-01' ? LAST_DAY : addDays(date, days));

/**
 * Until when the record of a lot has to be kept at least: two years from its making or receipt (21 CFR 820.180(b), in the text before 2026)
 * and one year past its expiry (21 CFR 211.180), whichever is later. Nothing is deleted from the ledger before or after; this is the day
 * before which a plant must not give the record up.
 * @see docs/rules/lots.md LT-7
 */
export function recordKeptUntil(bornAt: string, expiresOn: string | null): string {
  const fromBirth = later(bornAt.slice(0, 10), 730);
  const pastExpiry = expiresOn === null ? '' : later(expiresOn, 365);
  return fromBirth > pastExpiry ? fromBirth : pastExpiry;
}
