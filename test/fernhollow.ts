import { gs1CheckDigit } from '../shared/gs1/check-digit.js';
import { MICRO } from '../shared/quantity.js';
import type { Actor } from '../src/server/plant/people/access.js';
import type { CatalogueKind, CatalogueKinds, Item } from '../src/server/plant/catalogue/catalogue.facts.js';
import { Commands } from '../src/server/plant/commands.js';
import type { PlantFact } from '../src/server/plant/stock/effects.facts.js';
import type { Plant } from './harness.js';

/** The catalogue of the invented plant, for flow tests: chain wax in cans, track pumps with serial numbers. */

const SYSTEM: Actor = { person: 'administrator-1', roles: ['administrator'] };

const kg = (text: number): number => Math.round(text * MICRO);
const gtin = (first13: string): string => `${first13}${gs1CheckDigit(first13)}`;

const bulk = (code: string, name: string, itemClass: Item['class'], unit: Item['unit'], more: Partial<Item> = {}): Item => ({
  code,
  name,
  class: itemClass,
  unit,
  tracking: 'bulk',
  ...more,
});

const ITEMS: readonly Item[] = [
  bulk('WAX-BASE', 'Paraffin wax base', 'raw-material', 'kg', { shelfLifeDays: 365 }),
  bulk('OIL-40', 'Carrier oil 40', 'raw-material', 'L', { densityMicro: kg(0.85), shelfLifeDays: 730 }),
  bulk('SOLV', 'Solvent', 'raw-material', 'kg', { hazard: 'flammable liquid' }),
  bulk('DYE-BLU', 'Blue dye', 'raw-material', 'kg'),
  bulk('RUST-INH', 'Rust inhibitor', 'raw-material', 'kg'),
  bulk('CAN-250', 'Can body 250 g', 'packaging', 'each'),
  bulk('LID-250', 'Lid for can 250 g', 'packaging', 'each'),
  bulk('LBL-250', 'Label for can 250 g', 'packaging', 'each'),
  bulk('MIX-WAX', 'Chain wax, bulk', 'mixture', 'kg', { shelfLifeDays: 180 }),
  bulk('WAX-250', 'Chain wax, can 250 g', 'filled', 'each', {
    tracking: 'pieces',
    gtin: gtin('0950600013435'),
    contentMicro: kg(0.25),
    shelfLifeDays: 730,
  }),
  bulk('BAR-6061', 'Aluminium bar 40 mm', 'raw-material', 'm'),
  bulk('BARREL', 'Pump barrel, turned', 'component', 'each'),
  bulk('FOOT', 'Pump foot, machined', 'component', 'each'),
  bulk('HOSE', 'Hose with chuck', 'component', 'each'),
  bulk('SEAL', 'Piston seal', 'component', 'each'),
  bulk('GAUGE', 'Pressure gauge', 'component', 'each', { tracking: 'serial' }),
  bulk('PUMP', 'Track pump', 'assembled', 'each', { tracking: 'serial', gtin: gtin('0950600013436'), serialPattern: 'K-{n:5}' }),
];

const RECORDS: readonly (readonly [CatalogueKind, CatalogueKinds[CatalogueKind]])[] = [
  ...ITEMS.map((item) => ['item', item] as const),
  ['party', { code: 'S-WAX', name: 'Larkbridge Waxes', role: 'supplier' }],
  ['party', { code: 'S-PACK', name: 'Otterby Packaging', role: 'supplier' }],
  ['party', { code: 'S-METAL', name: 'Penhallow Metals', role: 'supplier' }],
  ['party', { code: 'C-001', name: 'Tumbledown Cycles', role: 'customer', contact: 'recalls@tumbledown.example' }],
  ['party', { code: 'C-002', name: 'Saddler and Spoke', role: 'customer', contact: 'workshop@saddler.example' }],
  ['vessel', { code: 'V-1', name: 'Kettle 1', capacityMicro: kg(500) }],
  ['vessel', { code: 'V-2', name: 'Kettle 2', capacityMicro: kg(500) }],
  ['line', { code: 'FILL-1', name: 'Filling line 1' }],
  ['line', { code: 'BENCH-1', name: 'Assembly bench 1' }],
  ['line', { code: 'LATHE-1', name: 'Lathe 1' }],
  ['location', { code: 'DOCK', name: 'Receiving dock', use: 'quarantine' }],
  ['location', { code: 'RACK-1', name: 'Rack 1', use: 'stock' }],
  ['location', { code: 'FG-1', name: 'Finished goods', use: 'stock' }],
  ['location', { code: 'QUAR', name: 'Quarantine cage', use: 'quarantine' }],
  ['location', { code: 'RETAIN', name: 'Retain samples', use: 'retain' }],
  [
    'recipe',
    {
      code: 'RCP-WAX',
      name: 'Chain wax',
      item: 'MIX-WAX',
      batchMicro: kg(100),
      steps: [
        { item: 'WAX-BASE', targetMicro: kg(60), toleranceBp: 200, mixMinutes: 30 },
        { item: 'OIL-40', targetMicro: kg(20), toleranceBp: 200, mixMinutes: 10 },
        { item: 'SOLV', targetMicro: kg(20), toleranceBp: 500, mixMinutes: 10 },
        { item: 'DYE-BLU', targetMicro: kg(0.5), toleranceBp: 1000, mixMinutes: 0 },
        { item: 'RUST-INH', targetMicro: kg(2.5), toleranceBp: 500, mixMinutes: 15 },
      ],
      yieldBp: [9500, 10200],
    },
  ],
  [
    'bom',
    {
      code: 'BOM-WAX-250',
      name: 'Can of chain wax',
      item: 'WAX-250',
      lines: [
        { item: 'MIX-WAX', perPieceMicro: kg(0.25), trackedBy: 'lot' },
        { item: 'CAN-250', perPieceMicro: MICRO, trackedBy: 'lot' },
        { item: 'LID-250', perPieceMicro: MICRO, trackedBy: 'lot' },
        { item: 'LBL-250', perPieceMicro: MICRO, trackedBy: 'lot' },
      ],
    },
  ],
  [
    'bom',
    {
      code: 'BOM-BARREL',
      name: 'Barrel from bar',
      item: 'BARREL',
      lines: [{ item: 'BAR-6061', perPieceMicro: kg(0.3), trackedBy: 'lot' }],
    },
  ],
  [
    'bom',
    {
      code: 'BOM-PUMP',
      name: 'Track pump',
      item: 'PUMP',
      lines: [
        { item: 'BARREL', perPieceMicro: MICRO, trackedBy: 'lot' },
        { item: 'FOOT', perPieceMicro: MICRO, trackedBy: 'lot' },
        { item: 'HOSE', perPieceMicro: MICRO, trackedBy: 'lot' },
        { item: 'SEAL', perPieceMicro: 2 * MICRO, trackedBy: 'lot' },
        { item: 'GAUGE', perPieceMicro: MICRO, trackedBy: 'serial' },
      ],
    },
  ],
];

/** Records facts as a command of their own, past every decision: for what a test needs before its story begins. */
export async function recordFacts(plant: Plant, facts: readonly PlantFact[], actor: Actor = SYSTEM): Promise<void> {
  await plant.app.get(Commands).run(actor, {}, async (_tx, record) => {
    await record(facts);
    return {};
  });
}

/** Puts the whole invented catalogue into an empty plant, first revisions. */
export function catalogueFernhollow(plant: Plant): Promise<void> {
  return recordFacts(
    plant,
    RECORDS.map(([what, record]) => ({ kind: 'CatalogueRevised', v: 1, what, revision: 1, record }) as PlantFact),
  );
}

/** A further revision of an item of the catalogue, as a density or a content that changes. */
export function reviseItem(plant: Plant, code: string, revision: number, change: Partial<Item>): Promise<void> {
  const item = ITEMS.find((one) => one.code === code);
  if (!item) throw new Error(`no item ${code} in the invented plant`);
  const fact = { kind: 'CatalogueRevised', v: 1, what: 'item', revision, record: { ...item, ...change } };
  return recordFacts(plant, [fact]);
}

/** Releases whole lots without a decision, for tests whose subject is something else. */
export function release(plant: Plant, lots: readonly string[]): Promise<void> {
  const fact = { kind: 'StatusSetForTest', v: 1, restatused: lots.map((lot) => ({ lot, spans: null, status: 'released' as const })) };
  return recordFacts(plant, [fact]);
}

/** A line of a delivery, with a supplier that fits unless the test cares. */
export interface Received {
  readonly item: string;
  readonly quantity: string;
  readonly supplierLot?: string;
  readonly serials?: readonly string[];
  readonly madeOn?: string;
  readonly expiresOn?: string;
}

let documents = 0;

/** Books a delivery through the route and answers its lot codes in order; they stand in quarantine at DOCK. */
export async function receive(plant: Plant, lines: readonly Received[], supplier = 'S-WAX'): Promise<string[]> {
  const answer = await plant.as('clerk').post<{ lines: { lot: string }[] }>('/api/deliveries', {
    supplier,
    documentType: 'delivery note',
    document: `DN-${++documents}`,
    location: 'DOCK',
    condition: 'sound',
    lines,
  });
  if (answer.status !== 201) throw new Error(`delivery refused: ${JSON.stringify(answer.body)}`);
  return answer.body.lines.map((line) => line.lot);
}

/** Books and releases a delivery. */
export async function receiveReleased(plant: Plant, lines: readonly Received[], supplier = 'S-WAX'): Promise<string[]> {
  const lots = await receive(plant, lines, supplier);
  await release(plant, lots);
  return lots;
}
