import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { createApp } from '../../src/server/app.js';
import { SetClock } from '../../src/server/platform/clock.js';
import { restoreRecord } from '../../src/server/record/restore.js';
import { DATABASES } from '../harness.js';
import { accountOf } from './account.js';
import { place } from './place.js';

/**
 * Ledgers that earlier versions of the program wrote, and what they come to. They are added and never made again: an entry that was
 * written once must be read the same for ever.
 */
const FOLDER = 'fixtures/ledgers';
const ledgers = readdirSync(FOLDER).filter((name) => name.endsWith('.jsonl'));

describe.each(DATABASES)('a ledger of an earlier version on %s', (database) => {
  it.each(ledgers)('is read as it always was: %s', async (name) => {
    const restored = await place(database);
    expect(await restoreRecord(restored.config, `${FOLDER}/${name}`)).toMatchObject({ ok: true, faults: [] });
    const app = await createApp(restored.config, new SetClock('2026-06-01T08:00:00.000Z'));
    await app.init();
    try {
      expect(await accountOf(app)).toBe(readFileSync(`${FOLDER}/${name.replace('.jsonl', '.account.txt')}`, 'utf8'));
    } finally {
      await app.close();
      restored.remove();
    }
  });
});
