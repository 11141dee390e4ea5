import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { createApp } from '../../src/server/app.js';
import { SESSION_COOKIE } from '../../src/server/plant/people/session-cookie.js';
import { Reader } from '../../src/server/platform/database/reader.js';
import { queryRows } from '../../src/server/platform/database/rows.js';
import { catalogueFernhollow, receiveReleased } from '../fernhollow.js';
import { type Database, type Plant, startPlant } from '../harness.js';
import { expectRebuildEqual } from '../rebuild.js';
import { failingWriter } from './failing.js';

const CLIENTS = 16;

interface Sent {
  readonly commandId: string;
  readonly status: number;
  readonly body: { readonly reasons?: readonly { readonly code: string }[] };
}

interface Command {
  readonly commandId: string;
  readonly path: string;
  readonly person: string;
  readonly body: object;
}

const deliveryFrom = (supplier: string, document: string) => ({
  supplier,
  documentType: 'delivery note',
  document,
  location: 'DOCK',
  condition: 'sound',
  lines: [
    { item: 'WAX-BASE', quantity: '7', supplierLot: document },
    { item: 'CAN-250', quantity: '3' },
  ],
});

/**
 * A hundred commands of which some must be refused whatever their order: 40 take 4 kg each of a lot of 100 kg, 40 book deliveries, 10 name
 * a supplier nobody knows, 10 book a delivery note that another of them books too.
 */
function commandsOn(lot: string): Command[] {
  const command = (n: number, path: string, person: string, body: object): Command => ({ commandId: `storm-${n}`, path, person, body });
  return Array.from({ length: 100 }, (_, n) => {
    if (n < 40) return command(n, '/api/stock/scrap', 'quality-1', { lot, quantity: '4', reason: 'a storm' });
    if (n < 80) return command(n, '/api/deliveries', 'clerk-1', deliveryFrom('S-WAX', `STORM-${n}`));
    if (n < 90) return command(n, '/api/deliveries', 'clerk-2', deliveryFrom('S-404', `STORM-${n}`));
    return command(n, '/api/deliveries', 'clerk-2', deliveryFrom('S-WAX', `STORM-${n - 50}`));
  });
}

/** In an order of its own, the same each time. */
const shuffled = <T>(list: readonly T[]): T[] =>
  list
    .map((one, i) => [((i * 7919) % 104_729) % list.length, i, one] as const)
    .toSorted((a, b) => a[0] - b[0] || a[1] - b[1])
    .map(([, , one]) => one);

/** Sixteen clients, each with one command under way at a time, spread over the servers. */
async function storm(plant: Plant, servers: readonly NestFastifyApplication[], commands: readonly Command[]): Promise<Sent[]> {
  const waiting = [...commands];
  const sent: Sent[] = [];
  const client = async (n: number): Promise<void> => {
    for (let command = waiting.shift(); command; command = waiting.shift()) {
      const response = await servers[n % servers.length]!.inject({
        method: 'POST',
        url: command.path,
        cookies: { [SESSION_COOKIE]: plant.sessionOf(command.person) },
        payload: { commandId: command.commandId, ...command.body },
      });
      sent.push({ commandId: command.commandId, status: response.statusCode, body: response.json() });
    }
  };
  await Promise.all(Array.from({ length: CLIENTS }, (_, n) => client(n)));
  return sent;
}

/** Command ids in the ledger, each as often as entries carry it. */
async function idsInLedger(plant: Plant): Promise<string[]> {
  const rows = await queryRows<{ body: string }>(plant.app.get(Reader).manager, 'SELECT "body" FROM "ledger_entry" ORDER BY "seq"');
  return rows.map((row) => (JSON.parse(row.body) as { commandId?: string }).commandId ?? '').filter((id) => id.startsWith('storm-'));
}

const acknowledged = (sent: readonly Sent[]): string[] => sent.filter((one) => one.status < 300).map((one) => one.commandId);

/** Database, and how many servers share it. */
const SETTINGS: readonly (readonly [Database, number])[] = [
  ['sqlite', 1],
  ['postgres', 1],
  ['postgres', 3],
];

describe.each(SETTINGS)('a hundred commands from sixteen clients at once, on %s with %i servers', (database, count) => {
  let plant: Plant;
  let servers: NestFastifyApplication[];
  let commands: Command[];
  let lot: string;
  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    [lot] = (await receiveReleased(plant, [{ item: 'WAX-BASE', quantity: '100' }])) as [string];
    servers = [plant.app];
    while (servers.length < count) {
      const app = await createApp(plant.config, plant.clock);
      await app.init();
      servers.push(app);
    }
    commands = commandsOn(lot);
  });
  afterAll(async () => {
    for (const app of servers.slice(1)) await app.close();
    await plant.stop();
  });

  let sent: Sent[];

  it('are each done or refused, none with a fault', async () => {
    sent = await storm(plant, servers, shuffled(commands));
    expect(sent.filter((one) => one.status >= 500)).toEqual([]);
    expect(sent).toHaveLength(100);
    // 25 takings fit into 100 kg; 40 deliveries and not one of their doubles; nobody knows S-404
    expect(acknowledged(sent)).toHaveLength(25 + 40);
    const refusals = sent.filter((one) => one.status >= 400).map((one) => one.body.reasons![0]!.code);
    expect(refusals.toSorted()).toEqual([
      ...Array.from({ length: 10 }, () => 'document-booked'),
      ...Array.from({ length: 15 }, () => 'not-enough-left'),
      ...Array.from({ length: 10 }, () => 'supplier-unknown'),
    ]);
  });

  it('leave exactly the acknowledged ones in ledger and tables (L-7)', async () => {
    expect((await idsInLedger(plant)).toSorted()).toEqual(acknowledged(sent).toSorted());
    const { manager } = plant.app.get(Reader);
    const [left] = await queryRows<{ n: unknown }>(
      manager,
      `SELECT count(*) AS "n" FROM "whereabout" WHERE "until_seq" IS NULL AND "fate" = 'on-hand' AND "lot_id" = (SELECT "id" FROM "lot" WHERE "code" = ?)`,
      [lot],
    );
    expect(Number(left!.n)).toBe(0);
    const [booked] = await queryRows<{ n: unknown }>(manager, `SELECT count(*) AS "n" FROM "delivery" WHERE "document" LIKE 'STORM-%'`);
    expect(Number(booked!.n)).toBe(40);
    await expectRebuildEqual(plant);
  });

  it('are answered again, not done again, when all of them come a second time, twice at once (L-6)', async () => {
    const before = await idsInLedger(plant);
    const again = await storm(plant, servers, shuffled([...commands, ...commands]));
    expect(await idsInLedger(plant)).toEqual(before);
    const first = new Map(sent.map((one) => [one.commandId, one]));
    for (const one of again) {
      const was = first.get(one.commandId)!;
      if (was.status < 300) expect(one).toEqual(was);
      else expect(one.status).toBe(was.status);
    }
  });

  it('are done once when each comes twice at once for the first time', async () => {
    const fresh = commands
      .slice(40, 80)
      .map((command, i) => ({ ...command, commandId: `storm-twice-${i}`, body: deliveryFrom('S-WAX', `TWICE-${i}`) }));
    const both = await storm(
      plant,
      servers,
      fresh.flatMap((command) => [command, command]),
    );
    expect(both.filter((one) => one.status !== 201)).toEqual([]);
    for (const { commandId } of fresh) {
      const [a, b] = both.filter((one) => one.commandId === commandId);
      expect(a!.body).toEqual(b!.body);
    }
    expect((await idsInLedger(plant)).filter((id) => id.startsWith('storm-twice-'))).toHaveLength(40);
    await expectRebuildEqual(plant);
  });
});

describe.each(['sqlite', 'postgres'] as const)('commands that wait together, on %s', (database) => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
  });
  afterAll(() => plant.stop());

  it('share commits (L-7)', async () => {
    const { sent } = failingWriter(plant);
    const commands = Array.from({ length: 64 }, (_, n) => ({
      commandId: `storm-${n}`,
      path: '/api/deliveries',
      person: 'clerk-1',
      body: deliveryFrom('S-WAX', `GROUP-${n}`),
    }));
    expect(acknowledged(await storm(plant, [plant.app], commands))).toHaveLength(64);
    const commits = sent.filter((sql) => sql === 'COMMIT').length;
    expect(sent.filter((sql) => sql === 'SAVEPOINT command')).toHaveLength(64);
    expect(commits).toBeGreaterThan(0);
    expect(commits).toBeLessThanOrEqual(64 / 4); // sixteen clients wait at once; a commit for each command would be 64
  });

  it('take nothing with them when one of the group is refused', async () => {
    const good = { commandId: 'storm-good', path: '/api/deliveries', person: 'clerk-1', body: deliveryFrom('S-WAX', 'BESIDE') };
    const bad = { ...good, commandId: 'storm-bad', body: deliveryFrom('S-404', 'BESIDE-2') };
    const { sent } = failingWriter(plant);
    const many = Array.from({ length: 32 }, (_, n) =>
      n % 2 === 0
        ? { ...bad, commandId: `storm-bad-${n}` }
        : { ...good, commandId: `storm-good-${n}`, body: deliveryFrom('S-WAX', `BESIDE-${n}`) },
    );
    expect(acknowledged(await storm(plant, [plant.app], many))).toHaveLength(16);
    const groups = sent.join('\n').split('COMMIT').slice(0, -1);
    const mixed = groups.filter((group) => group.includes('ROLLBACK TO SAVEPOINT command') && group.includes('INSERT INTO "delivery"'));
    expect(mixed.length).toBeGreaterThan(0);
    await expectRebuildEqual(plant);
  });
});
