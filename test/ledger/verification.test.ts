import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CommandGate } from '../../src/server/platform/database/gate.js';
import { queryRows } from '../../src/server/platform/database/rows.js';
import { catalogueFernhollow, receive } from '../fernhollow.js';
import { DATABASES, type Plant, startPlant } from '../harness.js';

interface View {
  readonly verification: string;
  readonly state: string;
  readonly entries: number | null;
  readonly hash: string | null;
  readonly startedBy: string;
  readonly faults: readonly { readonly what: string; readonly where: string }[];
}

describe.each(DATABASES)('a check that is started and come back to, on %s (L-11)', (database) => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    await receive(plant, [{ item: 'WAX-BASE', quantity: '400' }]);
  });
  afterAll(() => plant.stop());

  const start = async (body: object = {}): Promise<View> => {
    const answer = await plant.as('auditor').post<View>('/api/ledger/verifications', body);
    expect(answer.status).toBe(202);
    return answer.body;
  };
  const ended = async ({ verification }: View): Promise<View> => {
    for (;;) {
      const { body } = await plant.as('quality').get<View>(`/api/ledger/verifications/${verification}`);
      if (body.state !== 'running') return body;
      await new Promise((resolve) => {
        setTimeout(resolve, 20);
      });
    }
  };

  it('runs beside the work and finds a sound record sound', async () => {
    const started = await start();
    expect(started).toMatchObject({ state: 'running', startedBy: 'auditor-1' });
    expect((await start()).verification).toBe(started.verification); // one at a time
    await receive(plant, [{ item: 'WAX-BASE', quantity: '1' }]);
    expect(await ended(started)).toMatchObject({ state: 'sound', faults: [] });
  });

  it('names what is wrong', async () => {
    await plant.app.get(CommandGate).run((tx) => queryRows(tx, `UPDATE "lot" SET "expires_on" = '2099-01-01' WHERE "id" = 1`));
    const report = await ended(await start());
    expect(report).toMatchObject({ state: 'faulty', faults: [{ what: 'row-differs', where: 'lot id=1' }] });
    await plant.app.get(CommandGate).run((tx) => queryRows(tx, `UPDATE "lot" SET "expires_on" = NULL WHERE "id" = 1`));
  });

  it('checks that a position written down before is still part of the history', async () => {
    const before = await ended(await start());
    expect(before.state).toBe('sound');
    await receive(plant, [{ item: 'WAX-BASE', quantity: '1' }]);
    const known = { knownSeq: before.entries!, knownHash: before.hash! };
    expect((await ended(await start(known))).state).toBe('sound');
    const other = await ended(await start({ ...known, knownHash: 'f'.repeat(64) }));
    expect(other.faults).toMatchObject([{ what: 'history-rewritten', where: `entry ${before.entries}` }]);
    const longer = await ended(await start({ ...known, knownSeq: 1_000_000 }));
    expect(longer.faults).toMatchObject([{ what: 'history-cut' }]);
  });

  it('refuses half a position, and tells of no check that was not started', async () => {
    expect((await plant.as('auditor').post('/api/ledger/verifications', { knownSeq: 3 })).status).toBe(400);
    expect((await plant.as('auditor').post('/api/ledger/verifications', { knownHash: 'abc' })).status).toBe(400);
    expect((await plant.as('auditor').get('/api/ledger/verifications/VF-9999')).status).toBe(404);
    expect((await plant.as('clerk').get('/api/ledger/verifications')).status).toBe(403);
  });

  it('lists the checks, newest first', async () => {
    const { body } = await plant.as('administrator').get<View[]>('/api/ledger/verifications');
    expect(body.length).toBeGreaterThan(3);
    expect(body[0]!.verification > body.at(-1)!.verification).toBe(true);
  });
});
