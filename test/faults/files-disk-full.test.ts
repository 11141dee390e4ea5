import { open, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Plant, startPlant } from '../harness.js';
import { expectRebuildEqual } from '../rebuild.js';
import { pdf, sendFile } from '../send-file.js';
import { everything } from './everything.js';

/** What every open file has. */
interface Handles {
  writeFile: (this: Handles, bytes: Buffer) => Promise<void>;
  sync: () => Promise<void>;
}

/** The file system says that it is full when bytes are written or made durable: the errors it gives, without filling one. */
describe('a full disk while a file is stored (L-14, FI-2)', () => {
  let plant: Plant;
  let handles: Handles;
  beforeAll(async () => {
    plant = await startPlant('sqlite', { logLevel: 'fatal' });
    const handle = await open(join(plant.config.dataDir, 'any'), 'w');
    handles = Object.getPrototypeOf(handle) as Handles;
    await handle.close();
  });
  afterEach(() => vi.restoreAllMocks());
  afterAll(() => plant.stop());

  const full = (): Promise<never> => Promise.reject(Object.assign(new Error('ENOSPC: no space left on device, write'), { code: 'ENOSPC' }));
  const halfWay = (write: Handles['writeFile']) =>
    async function half(this: Handles, bytes: Buffer): Promise<void> {
      await write.call(this, bytes.subarray(0, bytes.length / 2));
      return full();
    };
  const large = `${pdf('large')}${'%'.repeat(500_000)}`;

  it.each([
    ['at the first byte', () => vi.spyOn(handles, 'writeFile').mockImplementationOnce(full)],
    ['on the way', () => vi.spyOn(handles, 'writeFile').mockImplementationOnce(halfWay(handles.writeFile))],
    ['when it is made durable', () => vi.spyOn(handles, 'sync').mockImplementationOnce(full)],
  ])('%s: 507, nothing stays, reading goes on, and the same file is stored when there is room', async (when, spy) => {
    const content = `${large}${when}`;
    const before = await everything(plant);
    const failing = spy();
    const answer = await sendFile<{ type: string }>(plant, 'large.pdf', content);
    expect(failing).toHaveBeenCalled();
    vi.restoreAllMocks();
    expect([answer.status, answer.body.type]).toEqual([507, '/problems/no-room']);
    expect(await everything(plant)).toEqual(before);
    expect((await readdir(join(plant.config.dataDir, 'files'))).filter((name) => name.endsWith('.unfinished'))).toEqual([]);
    expect((await plant.as('auditor').get('/api/ledger/entries')).status).toBe(200);
    expect((await sendFile(plant, 'large.pdf', content)).status).toBe(201);
    await expectRebuildEqual(plant);
  });
});
