import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Commands } from '../../src/server/plant/commands.js';
import { ReceivingService } from '../../src/server/plant/receiving/receiving.service.js';
import type { PlantFact } from '../../src/server/plant/stock/effects.facts.js';
import { readConfig } from '../../src/server/platform/config.js';
import type { Bars } from './bar.js';
import { openApp } from './bench-plant.js';
import { milliseconds } from './measure.js';

const CLERK = { person: 'bench', roles: ['clerk' as const] };
const CLIENTS = 16;
const EACH = 40;

const record = (what: string, record_: object): PlantFact =>
  ({ kind: 'CatalogueRevised', v: 1, what, revision: 1, record: record_ }) as PlantFact;

const CATALOGUE = [
  record('item', { code: 'WAX-BASE', name: 'Paraffin wax base', class: 'raw-material', unit: 'kg', tracking: 'bulk' }),
  record('party', { code: 'S-WAX', name: 'Larkbridge Waxes', role: 'supplier' }),
  record('location', { code: 'DOCK', name: 'Receiving dock', use: 'quarantine' }),
];

/** Deliveries booked one after another, and by sixteen clients at once whose commands share commits. */
export async function benchCommands(bars: Bars): Promise<void> {
  const dataDir = mkdtempSync(join(tmpdir(), 'kinledger-bench-'));
  const app = await openApp(readConfig({}, { dataDir, logLevel: 'error' }));
  const receiving = app.get(ReceivingService);
  await app.get(Commands).run(CLERK, {}, async (_tx, keep) => {
    await keep(CATALOGUE);
    return {};
  });
  let document = 0;
  const book = () =>
    receiving.book(CLERK, {
      supplier: 'S-WAX',
      documentType: 'delivery note',
      document: `DN-${++document}`,
      location: 'DOCK',
      condition: 'sound',
      lines: [{ item: 'WAX-BASE', quantity: '25.5', supplierLot: `LW-${document}` }],
    });
  const client = async (count: number): Promise<void> => {
    for (let n = 0; n < count; n++) await book();
  };
  await client(EACH);
  const alone = await milliseconds(() => client(EACH * 4));
  const together = await milliseconds(() => Promise.all(Array.from({ length: CLIENTS }, () => client(EACH))));
  bars.note('deliveries booked by one client, every commit synced', (EACH * 4 * 1000) / alone, 'a second');
  bars.note('deliveries booked by sixteen clients', (CLIENTS * EACH * 1000) / together, 'a second');
  await app.close();
  rmSync(dataDir, { recursive: true, force: true });
}
