import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, rmSync } from 'node:fs';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { build } from 'vite';
import { SESSION_COOKIE } from '../../src/server/plant/people/session-cookie.js';
import type { Config } from '../../src/server/platform/config.js';
import { openReader } from '../../src/server/platform/database/data-source.js';
import { queryRows } from '../../src/server/platform/database/rows.js';
import { verifyRecord } from '../../src/server/record/verify.js';
import { SCHEMA } from '../../src/server/schema.js';
import { catalogueFernhollow } from '../fernhollow.js';
import { type Plant, startPlant } from '../harness.js';

const KILLS = 20;
const CLIENTS = 8;
/** Inside the project, so that the child finds its packages. */
const BUILT = `node_modules/.cache/kinledger-child-${process.pid}`;

/** A server with its address, until it is killed. */
interface Child {
  readonly process: ChildProcess;
  readonly address: string;
}

async function start(config: Config): Promise<Child> {
  const child = spawn(process.execPath, [`${BUILT}/child.js`, JSON.stringify(config)], { stdio: ['ignore', 'pipe', 'inherit'] });
  const [address] = (await Promise.race([once(createInterface(child.stdout), 'line'), once(child, 'exit')])) as [unknown];
  if (typeof address !== 'string') throw new Error('the server did not start');
  return { process: child, address };
}

const sleep = (ms: number): Promise<void> =>
  new Promise((resolve) => {
    setTimeout(resolve, ms);
  });

describe('a server killed under load', () => {
  let plant: Plant;
  let session: string;
  beforeAll(async () => {
    mkdirSync(BUILT, { recursive: true });
    await build({
      configFile: false,
      logLevel: 'error',
      build: {
        ssr: 'test/faults/child.ts',
        outDir: BUILT,
        target: 'node20',
        rollupOptions: { output: { format: 'es', entryFileNames: 'child.js' } },
      },
    });
    plant = await startPlant('sqlite');
    await catalogueFernhollow(plant);
    session = plant.sessionOf('clerk-1');
    await plant.app.close(); // the folder stays: from here on other processes serve it
  });
  afterAll(() => {
    rmSync(plant.config.dataDir, { recursive: true, force: true });
    rmSync(BUILT, { recursive: true, force: true });
  });

  const book = async (address: string, commandId: string): Promise<number> => {
    const response = await fetch(`${address}/api/deliveries`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', cookie: `${SESSION_COOKIE}=${session}`, origin: address },
      body: JSON.stringify({
        commandId,
        supplier: 'S-WAX',
        documentType: 'delivery note',
        document: commandId,
        location: 'DOCK',
        condition: 'sound',
        lines: [
          { item: 'WAX-BASE', quantity: '12.5' },
          { item: 'GAUGE', quantity: '1', serials: [commandId] },
        ],
      }),
    });
    await response.text();
    return response.status;
  };

  it(`loses no acknowledged command in ${KILLS} kills, does none twice, and stays whole`, async () => {
    const acknowledged = new Set<string>();
    /** Sent when the server died: done or not, nobody told. */
    let unknown: string[] = [];
    let next = 0;
    for (let kill = 0; kill < KILLS; kill += 1) {
      const child = await start(plant.config);
      for (const commandId of unknown) {
        expect(await book(child.address, commandId), 'a retry is answered, whether it had been done or not').toBe(201);
        acknowledged.add(commandId);
      }
      unknown = [];
      const death = { come: false };
      const client = async (): Promise<void> => {
        while (!death.come) {
          const commandId = `kill-${next++}`;
          try {
            const status = await book(child.address, commandId);
            expect(status).toBe(201);
            acknowledged.add(commandId);
          } catch (error) {
            if (!death.come) throw error;
            unknown.push(commandId);
          }
        }
      };
      const clients = Array.from({ length: CLIENTS }, client);
      await sleep(60 + ((kill * 37) % 150)); // at another moment each time
      death.come = true;
      child.process.kill('SIGKILL');
      await once(child.process, 'exit');
      await Promise.all(clients);
    }
    const recorded = await recordedCommands(plant.config);
    expect([...acknowledged].filter((id) => !recorded.includes(id))).toEqual([]);
    expect(new Set(recorded).size).toBe(recorded.length);
    expect(recorded.filter((id) => !acknowledged.has(id) && !unknown.includes(id))).toEqual([]);
    expect(acknowledged.size).toBeGreaterThan(KILLS * CLIENTS);
    const report = await verifyRecord(plant.config);
    expect(report.faults).toEqual([]);
    expect(report.entries).toBeGreaterThanOrEqual(acknowledged.size);
  }, 180_000);
});

async function recordedCommands(config: Config): Promise<string[]> {
  const reader = await openReader(config, SCHEMA);
  try {
    const rows = await queryRows<{ body: string }>(reader.manager, `SELECT "body" FROM "ledger_entry" WHERE "kind" = 'DeliveryBooked'`);
    return rows.map((row) => (JSON.parse(row.body) as { commandId: string }).commandId);
  } finally {
    await reader.destroy();
  }
}
