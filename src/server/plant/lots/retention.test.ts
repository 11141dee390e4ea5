import { expect, it } from 'vitest';
import { recordKeptUntil } from './retention.js';

it.each([
  ['without expiry, two years from birth', '2026-03-02T23:59:59.999Z', null, '2028-03-01'],
  ['short-lived, still two years from birth', '2026-03-02T08:00:00.000Z', '2026-09-01', '2028-03-01'],
  ['long-lived, one year past expiry', '2026-03-02T08:00:00.000Z', '2029-03-02', '2030-03-02'],
  ['an expiry nobody lives to see', '2026-03-02T08:00:00.000Z', '9999-12-31', '9999-12-31'],
])('SH-8, LT-7: %s', (_what, bornAt, expiresOn, until) => expect(recordKeptUntil(bornAt, expiresOn)).toBe(until));
