import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ImportReport } from '../../shared/api/imports.js';
import { COLUMNS } from '../../src/server/plant/import/import.files.js';
import { ImportService } from '../../src/server/plant/import/import.service.js';
import type { HoldPlaced } from '../../src/server/plant/holds/holds.facts.js';
import { catalogueFernhollow, receive, receiveReleased, recordFacts } from '../fernhollow.js';
import { DATABASES, type Plant, startPlant } from '../harness.js';
import { linkLots, makeLots } from '../made-lots.js';
import { expectRebuildEqual } from '../rebuild.js';

type Rows = Partial<Record<'lots' | 'links' | 'shipments', readonly string[]>>;

/** Brings a folder of these rows over into a plant that has a catalogue and lots of its own. */
async function bring(plant: Plant, rows: Rows): Promise<ImportReport> {
  const dir = mkdtempSync(join(tmpdir(), 'kinledger-test-'));
  for (const [name, lines] of Object.entries(rows)) {
    const file = `${name as keyof Rows}.csv` as const;
    writeFileSync(join(dir, file), [COLUMNS[file].join(','), ...lines, ''].join('\n'));
  }
  const report = await plant.app.get(ImportService).importFolder(dir, { actor: { person: 'administrator-1', roles: ['administrator'] } });
  rmSync(dir, { recursive: true });
  return report;
}

const codes = (report: ImportReport) => report.faults.map(({ file, line, value, code }) => [file, line, value, code]);
const MADE = (lot: string) => `${lot},MIX-WAX,50,,made,2026-03-02T07:30:00Z,,,,released`;
const CHARGE = (run: string, from: string, to: string, quantity: string) =>
  `${run},mixing,2026-03-02T07:59:00Z,${from},,,${to},,,${quantity},all`;

const hold = (lot: string, reaches: boolean): HoldPlaced => ({
  kind: 'HoldPlaced',
  v: 1,
  hold: `H-${lot}`,
  parts: [{ lot, spans: null, quantityMicro: null }],
  reaches,
  reason: 'rust inhibitor below strength',
  owner: 'quality-1',
  signature: { by: 'quality-1', at: '2026-03-02T08:00:00.000Z', meaning: 'nothing under this hold moves' },
});

describe.each(DATABASES)('bringing records over into a plant at work, on %s', (database) => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    plant.clock.set('2026-03-02T08:00:00.000Z');
  });
  afterAll(() => plant.stop());

  /** A lot received a little earlier than it is used. */
  const received = async (item: string, quantity: string, more: object = {}): Promise<string> => {
    plant.clock.set('2026-03-02T07:00:00.000Z');
    const [lot] = await receiveReleased(plant, [{ item, quantity, ...more }]);
    plant.clock.set('2026-03-02T08:00:00.000Z');
    return lot!;
  };

  it('takes from lots of the plant, place by place, and links into them', async () => {
    const lot = await received('WAX-BASE', '100');
    const report = await bring(plant, { lots: [MADE('OLD-1')], links: [CHARGE('OLD-MX-1', lot, 'OLD-1', '40')] });
    expect(codes(report)).toEqual([]);
    const { body } = await plant.as('auditor').get<{ whereabouts: object[] }>(`/api/trace?lot=OLD-1&direction=backward&whereabouts=true`);
    expect(body.whereabouts).toMatchObject([
      { lot: 'OLD-1', fate: 'on-hand', at: 'BROUGHT-OVER', quantity: '50' },
      { lot, fate: 'consumed', at: 'OLD-MX-1', quantity: '40' },
      { lot, fate: 'on-hand', at: 'DOCK', quantity: '60' },
    ]);
  });

  it('ST-2 refuses to use or ship by import what quality has not released', async () => {
    plant.clock.set('2026-03-02T07:00:00.000Z');
    const [lot] = await receive(plant, [{ item: 'WAX-BASE', quantity: '100' }]);
    plant.clock.set('2026-03-02T08:00:00.000Z');
    const used = await bring(plant, { lots: [MADE('OLD-2')], links: [CHARGE('OLD-MX-2', lot!, 'OLD-2', '40')] });
    expect(codes(used)).toEqual([['links.csv', 2, lot, 'lot-not-released']]);
    const shipped = await bring(plant, { shipments: [`OLD-S-2,C-001,2026-03-02T07:59:00Z,${lot},,,5`] });
    expect(codes(shipped)).toEqual([['shipments.csv', 2, lot, 'lot-not-released']]);
  });

  it('ST-2 refuses to use or ship by import what is on hold, or was made from it', async () => {
    const lot = await received('WAX-BASE', '100');
    await makeLots(plant, [{ lot: `B-${lot}`, item: 'MIX-WAX', quantityMicro: 50_000_000, unit: 'kg' }]);
    await linkLots(plant, `MX-${lot}`, [{ from: lot, to: `B-${lot}`, quantityMicro: 1_000_000 }]);
    await recordFacts(plant, [hold(lot, true)]);
    const used = await bring(plant, { lots: [MADE('OLD-3')], links: [CHARGE('OLD-MX-3', lot, 'OLD-3', '40')] });
    expect(codes(used)).toEqual([['links.csv', 2, lot, 'lot-held']]);
    const shipped = await bring(plant, { shipments: [`OLD-S-3,C-001,2026-03-02T08:00:00Z,B-${lot},,,5`] });
    expect(codes(shipped)).toEqual([['shipments.csv', 2, `B-${lot}`, 'made-from-held']]);
  });

  it('ST-8 refuses to use by import what had expired on the day, and more than is on hand', async () => {
    const expired = await received('WAX-BASE', '100', { expiresOn: '2026-03-01' });
    const report = await bring(plant, { lots: [MADE('OLD-4')], links: [CHARGE('OLD-MX-4', expired, 'OLD-4', '100.000001')] });
    expect(codes(report)).toEqual([
      ['links.csv', 2, expired, 'lot-expired'],
      ['links.csv', 2, expired, 'not-enough-left'],
    ]);
  });

  it('I-13 sees a circle that the plant’s own links close', async () => {
    const first = await received('WAX-BASE', '10');
    const second = await received('WAX-BASE', '10');
    await linkLots(plant, `MX-${first}`, [{ from: first, to: second, quantityMicro: 0 }]);
    const report = await bring(plant, { links: [CHARGE('OLD-MX-5', second, first, '1')] });
    expect(codes(report)).toEqual([['links.csv', 2, second, 'own-ancestor']]);
    expect(report.faults[0]!.detail).toContain(`${first} → ${second}`);
  });

  it('refuses a run and a shipment that the plant has already', async () => {
    const lot = await received('WAX-BASE', '10');
    await bring(plant, { links: [CHARGE('OLD-MX-6', lot, 'OLD-1', '1')], shipments: [`OLD-S-6,C-001,2026-03-02T07:59:00Z,${lot},,,1`] });
    const report = await bring(plant, {
      links: [CHARGE('OLD-MX-6', lot, 'OLD-1', '2')],
      shipments: [`OLD-S-6,C-001,2026-03-02T07:59:00Z,${lot},,,2`],
    });
    expect(codes(report)).toEqual([
      ['links.csv', 2, 'OLD-MX-6', 'exists'],
      ['shipments.csv', 2, 'OLD-S-6', 'exists'],
    ]);
  });

  it('a run number brought over is not given out again, and a run begun here is not brought over', async () => {
    const lot = await received('WAX-BASE', '10');
    await bring(plant, { links: [CHARGE('RUN-0001', lot, 'OLD-1', '1')] });
    const start = (run?: string) =>
      plant.as('operator').post<{ run: string; reasons: { code: string }[] }>('/api/runs', {
        kind: 'mixing',
        item: 'MIX-WAX',
        recipe: 'RCP-WAX',
        vessel: 'V-1',
        ...(run === undefined ? {} : { run }),
      });
    const typed = await start('RUN-0001');
    expect([typed.status, typed.body.reasons.length]).toEqual([409, 1]);
    expect((await start()).body.run).toBe('RUN-0002');
    const report = await bring(plant, { links: [CHARGE('RUN-0002', lot, 'OLD-1', '2')] });
    expect(codes(report)).toEqual([['links.csv', 2, 'RUN-0002', 'exists']]);
  });

  it('leaves a record that a rebuild gives again', async () => {
    await expect(expectRebuildEqual(plant)).resolves.toBeUndefined();
  });
});
