import { at, later, workday } from './calendar.js';
import { MILLI } from './pantry.js';
import { inspectLot } from './inspecting.js';
import type { Story } from './story.js';

/** What arrives: working day, supplier, item, amount in its unit, the supplier's lot, days until it expires. */
type Arrival = readonly [day: number, supplier: string, item: string, amount: number, supplierLot: string | null, expiresIn?: number];

const ARRIVALS: readonly Arrival[] = [
  [0, 'S-LARK', 'WAX-BASE', 800, 'LW-6121', 365],
  [0, 'S-LARK', 'OIL-40', 500, 'LO-0417', 730],
  [0, 'S-QUIL', 'SOLV', 300, 'Q/88-12', 730],
  [0, 'S-QUIL', 'RUST-INH', 60, 'RI-2201', 540],
  [0, 'S-QUIL', 'DYE-BLU', 20, 'DB-31', 730],
  [1, 'S-OTT', 'CAN-250', 6000, 'OT 44107'],
  [1, 'S-OTT', 'LID-250', 7000, 'OT 51880'],
  [1, 'S-TARN', 'LBL-250', 5000, 'reel 0091'],
  [1, 'S-PENH', 'BAR-40', 100, 'HEAT 7731'],
  [1, 'S-IVEL', 'CAST-F', 150, 'IC-18'],
  [2, 'S-BRAM', 'HOSE', 220, 'BH-2603'],
  [2, 'S-BRAM', 'SEAL', 300, 'BS-118', 1825],
  [2, 'S-VELL', 'GAUGE', 110, 'VG-0901'],
  [2, 'S-TARN', 'CARTON-12', 60, null],
  [9, 'S-LARK', 'WAX-BASE', 800, 'LW-6188', 365],
  [12, 'S-TARN', 'LBL-250', 5000, 'reel 0092'],
  [13, 'S-QUIL', 'SOLV', 300, 'Q/88-19', 730],
  [14, 'S-OTT', 'CAN-250', 6000, 'OT 44236'],
  [15, 'S-LARK', 'OIL-40', 500, 'LO-0455', 730],
  [16, 'S-QUIL', 'RUST-INH', 60, 'RI-2207', 540], // the story's bad lot
  [17, 'S-PENH', 'BAR-40', 100, 'HEAT 7790'],
  [17, 'S-IVEL', 'CAST-F', 150, 'IC-21'],
  [18, 'S-VELL', 'GAUGE', 110, 'VG-0914'],
  [20, 'S-OTT', 'LID-250', 7000, 'OT 52011'],
  [21, 'S-BRAM', 'SEAL', 300, 'BS-126', 1825],
  [24, 'S-LARK', 'WAX-BASE', 800, 'LW-6240', 365],
  [26, 'S-TARN', 'LBL-250', 5000, 'reel 0093'],
  [27, 'S-OTT', 'CAN-250', 6000, 'OT 44350'],
  [29, 'S-QUIL', 'DYE-BLU', 20, 'DB-34', 730],
  [30, 'S-QUIL', 'SOLV', 300, 'Q/88-26', 730],
  [31, 'S-BRAM', 'HOSE', 220, 'BH-2605'],
  [32, 'S-LARK', 'OIL-40', 500, 'LO-0455', 730], // the same supplier lot again: a new lot that names the earlier one
  [33, 'S-PENH', 'BAR-40', 100, 'HEAT 7844'],
  [33, 'S-IVEL', 'CAST-F', 150, 'IC-25'],
  [34, 'S-VELL', 'GAUGE', 110, 'VG-0928'],
  [36, 'S-QUIL', 'RUST-INH', 60, 'RI-2215', 540],
  [38, 'S-LARK', 'WAX-BASE', 800, 'LW-6301', 365],
  [40, 'S-BRAM', 'SEAL', 300, 'BS-133', 1825],
  [41, 'S-TARN', 'LBL-250', 5000, 'reel 0094'],
  [42, 'S-OTT', 'CAN-250', 6000, 'OT 44481'],
  [44, 'S-OTT', 'LID-250', 7000, 'OT 52140'],
  [46, 'S-VELL', 'GAUGE', 110, 'VG-0941'],
  [50, 'S-QUIL', 'RUST-INH', 12, 'RI-2098', -3], // expired on arrival: booked, and not accepted
];

/** Where received goods stand once they are released. */
const RACKS: Readonly<Record<string, string>> = { S: 'RACK-1', P: 'RACK-2', C: 'RACK-3' };
const rackOf = (item: string): string =>
  ['CAN-250', 'LID-250', 'LBL-250', 'CARTON-12'].includes(item)
    ? RACKS['P']!
    : ['WAX-BASE', 'OIL-40', 'SOLV', 'RUST-INH', 'DYE-BLU'].includes(item)
      ? RACKS['S']!
      : RACKS['C']!;

/** Which lots came under the supplier's lot codes, for the rest of the story. */
export async function receiveDay(story: Story, day: number): Promise<void> {
  const today = ARRIVALS.filter(([arrives]) => arrives === day);
  for (const supplier of new Set(today.map((arrival) => arrival[1]))) {
    const lines = today.filter((arrival) => arrival[1] === supplier);
    await receive(story, day, supplier, lines);
  }
}

/** A delivery is booked in at the dock. Answers its lots, in the order of its lines. */
export async function bookIn(
  story: Story,
  day: number,
  supplier: string,
  arrivals: readonly Arrival[],
  receivedAt: string,
): Promise<readonly string[]> {
  const date = workday(day);
  story.clock(receivedAt);
  const lines = arrivals.map(([, , item, amount, supplierLot, expiresIn]) => ({
    item,
    quantity: String(amount),
    containers: Math.max(1, Math.round(amount / 200)),
    ...(supplierLot === null ? {} : { supplierLot }),
    ...(expiresIn === undefined ? {} : { expiresOn: story.dateAfter(date, expiresIn) }),
    ...(item === 'GAUGE' ? { serials: gaugeSerials(supplierLot!, amount) } : {}),
  }));
  const delivery = await story.as('ada.clerk').post<{ lines: { lot: string }[] }>('/api/deliveries', {
    supplier,
    documentType: 'delivery note',
    document: `DN ${supplier.slice(2)} ${String(1000 + day * 7)}`,
    receivedAt,
    location: 'DOCK',
    condition: story.dice.roll() < 0.1 ? 'outer wrap torn on one pallet, goods sound' : 'sound, seals unbroken',
    lines,
  });
  const lots = delivery.lines.map(({ lot }) => lot);
  for (const [i, [, , , , supplierLot]] of arrivals.entries()) if (supplierLot !== null) story.lotsOf.set(supplierLot, lots[i]!);
  return lots;
}

/** Released, and put away on the rack of its item. */
export async function letIn(story: Story, lot: string, item: string, amount: number): Promise<void> {
  await story.sign('finn.quality', `/api/lots/${lot}/release`, { reason: 'certificate and identity check agree' });
  await story.as('ada.clerk').post('/api/stock/moves', {
    lot,
    ...(item === 'GAUGE' ? { pieces: `1-${amount}` } : { quantity: String(amount) }),
    from: 'DOCK',
    to: rackOf(item),
    reason: 'put away after release',
  });
  story.pantry.add(lot, item, amount * MILLI);
}

async function receive(story: Story, day: number, supplier: string, arrivals: readonly Arrival[]): Promise<void> {
  const receivedAt = at(workday(day), '07:40');
  const lots = await bookIn(story, day, supplier, arrivals, receivedAt);
  for (const [i, [, , item, amount, , expiresIn]] of arrivals.entries()) {
    const lot = lots[i]!;
    story.clock(later(receivedAt, 90 + i * 5));
    if (expiresIn !== undefined && expiresIn < 0) {
      await story.sign('finn.quality', `/api/lots/${lot}/non-acceptance`, { reason: 'expired before it arrived' });
      await story.as('finn.quality').post('/api/stock/supplier-returns', {
        lot,
        quantity: String(amount),
        supplierDocument: `RMA ${lot}`,
        reason: 'expired before it arrived',
      });
      continue;
    }
    await inspectLot(story, lot, later(receivedAt, 95 + i * 30));
    await letIn(story, lot, item, amount);
  }
}

const gaugeSerials = (supplierLot: string, amount: number): string[] =>
  Array.from({ length: amount }, (_, i) => `${supplierLot.replace('VG-', 'G')}-${String(i + 1).padStart(3, '0')}`);
