import type { Made } from '../made-lots.js';
import { signed, type Step } from './step.js';

const parts = (lot: string, item: string): Made => ({ lot, item, quantityMicro: 100_000_000, unit: 'each', at: 'RACK-1' });

/** What the runs of the story are charged with. */
export const MATERIALS: readonly Made[] = [
  { lot: 'W-1', item: 'WAX-BASE', quantityMicro: 500_000_000, unit: 'kg', at: 'RACK-1' },
  parts('CANS-1', 'CAN-250'),
  parts('LIDS-1', 'LID-250'),
  parts('LBLS-1', 'LBL-250'),
  parts('LBLS-2', 'LBL-250'),
  parts('BARRELS-1', 'BARREL'),
  parts('FEET-1', 'FOOT'),
  parts('HOSES-1', 'HOSE'),
  parts('SEALS-1', 'SEAL'),
  { lot: 'EARLIER-W', item: 'WAX-BASE', quantityMicro: 50_000_000, unit: 'kg', at: 'RACK-1' },
  { lot: 'EARLIER-B', item: 'MIX-WAX', quantityMicro: 90_000_000, unit: 'kg', at: 'RACK-1', bornAt: '2026-02-22T08:00:00.000Z' },
  { lot: 'GAUGES-1', item: 'GAUGE', pieces: 3, serials: ['GA-1', 'GA-2', 'GA-3'], at: 'RACK-1' },
];

interface Run {
  readonly run: string;
  readonly lot: string | null;
  readonly closedSeq: number | null;
  readonly yields: { readonly serials: readonly string[] } | null;
}

const by = 'operator';
const clearance = { confirmed: true, checkedBy: 'operator-1' };

const start = (what: string, body: object): Step => ({
  route: 'POST /api/runs',
  what,
  by,
  body: () => body,
  keep: (answer: Run, told) => void (told[what] = answer.run),
});

const onRun = (what: string, action: string, body: Step['body'], more: Partial<Step> = {}): Step => ({
  route: `POST /api/runs/:run/${action}`,
  what,
  by,
  params: (told) => [told[what]!],
  body,
  ...more,
});

const charge = (what: string, ...charges: readonly ((told: Record<string, string>) => object)[]): Step =>
  onRun(what, 'charges', (told) => ({ charges: charges.map((one) => one(told)) }));

const close = (what: string, body: object): Step =>
  onRun(what, 'close', () => body, {
    after: 30,
    keep: (answer: Run, told) => {
      told[`lot of ${what}`] = answer.lot!;
      told[`end of ${what}`] = String(answer.closedSeq);
      told[`first serial of ${what}`] = answer.yields?.serials[0] ?? '';
    },
  });

/** A batch with too small a yield, the next on its heel, a can filling with a changeover put right later, and two pumps of which one is mended. */
export const MAKING: readonly Step[] = [
  start('batch', { kind: 'mixing', item: 'MIX-WAX', recipe: 'RCP-2', vessel: 'V-1', planned: '100' }),
  charge('batch', () => ({ lot: 'W-1', quantity: '100' })),
  onRun('batch', 'returns', () => ({ returns: [{ charge: 1, quantity: '10', location: 'RACK-1' }], reason: 'weighed too much' })),
  charge('batch', () => ({ lot: 'W-1', quantity: '10' })),
  onRun('batch', 'transfers', () => ({ to: 'V-2' })),
  close('batch', { quantity: '80' }),
  onRun('batch', 'explanations', () => ({ what: 'yield', explanation: 'spilt at the outlet valve' })),
  { route: 'POST /api/lots/:lot/release', what: 'a batch', by: 'quality', params: (told) => [told['lot of batch']!], body: () => signed() },
  {
    route: 'POST /api/vessels/:vessel/transfers',
    by,
    params: () => ['V-2'],
    body: (told) => ({ lot: told['lot of batch'], quantity: '8', to: 'V-3' }),
  },

  start('next', { kind: 'mixing', item: 'MIX-WAX', recipe: 'RCP-2', vessel: 'V-3', planned: '100' }),
  onRun('next', 'heel', () => ({})),
  charge('next', () => ({ lot: 'W-1', quantity: '100' })),
  close('next', { quantity: '105' }),
  { route: 'POST /api/vessels/:vessel/emptied', by, params: () => ['V-3'], body: () => ({ location: 'RACK-1', reason: 'drummed off' }) },
  { route: 'POST /api/vessels/:vessel/cleaned', by, params: () => ['V-3'], body: () => ({ method: 'hot wax flush' }) },

  start('filling', {
    kind: 'filling',
    item: 'WAX-250',
    bom: 'BOM-WAX-250',
    line: 'FILL-1',
    planned: '20',
    clearance,
    label: { text: 'Chain wax 250 g' },
  }),
  charge(
    'filling',
    (told) => ({ lot: told['lot of batch'], quantity: '5.1', fromPiece: 1 }),
    () => ({ lot: 'CANS-1', quantity: '20', fromPiece: 1 }),
    () => ({ lot: 'LIDS-1', quantity: '20', fromPiece: 1 }),
    () => ({ lot: 'LBLS-1', quantity: '10', fromPiece: 1 }),
    () => ({ lot: 'LBLS-2', quantity: '10' }),
  ),
  onRun('filling', 'changeovers', () => ({ changeovers: [{ lot: 'LBLS-2', fromPiece: 11 }] })),
  close('filling', {
    pieces: 20,
    location: 'FG-1',
    rejected: '7',
    rejectReason: 'net weight',
    netWeights: { count: 20, mean: '0.2503', sd: '0.0011', min: '0.2481', max: '0.2519' },
  }),
  onRun('filling', 'corrections', (told) => ({
    corrects: Number(told['end of filling']),
    reason: 'the roll ran out earlier',
    changeovers: [
      { lot: 'LBLS-1', fromPiece: 1 },
      { lot: 'LBLS-2', fromPiece: 10 },
    ].slice(1),
  })),

  start('building', { kind: 'building', item: 'PUMP', bom: 'BOM-PUMP', line: 'BENCH-1', planned: '2', clearance }),
  charge(
    'building',
    () => ({ lot: 'BARRELS-1', quantity: '2', fromPiece: 1 }),
    () => ({ lot: 'FEET-1', quantity: '2', fromPiece: 1 }),
    () => ({ lot: 'HOSES-1', quantity: '2', fromPiece: 1 }),
    () => ({ lot: 'SEALS-1', quantity: '4', fromPiece: 1 }),
    () => ({ lot: 'GAUGES-1', pieces: '1-2', intoPieces: '1-2', map: 'each' }),
  ),
  close('building', { pieces: 2, location: 'FG-1' }),
  start('rework', { kind: 'rework', item: 'PUMP', line: 'BENCH-1', clearance }),
  onRun('rework', 'replacements', (told) => ({
    unit: { item: 'PUMP', serial: told['first serial of building'] },
    removed: { item: 'GAUGE', serial: 'GA-1' },
    fitted: { item: 'GAUGE', serial: 'GA-3' },
    reason: 'needle stuck',
    location: 'QUAR',
  })),

  {
    route: 'POST /api/link-corrections',
    what: 'a link recorded late',
    by,
    body: () => ({
      run: 'EARLIER-RUN',
      kind: 'mixing',
      reason: 'found in the paper log',
      links: [{ from: 'EARLIER-W', to: 'EARLIER-B', quantity: '10', at: '2026-02-21T06:00:00.000Z' }],
    }),
    keep: (answer: { links: readonly { seq: number; ord: number }[] }, told) => {
      told['late link'] = JSON.stringify({ seq: answer.links[0]!.seq, ord: answer.links[0]!.ord });
    },
  },
  {
    route: 'POST /api/link-corrections',
    what: 'and voided',
    by,
    body: (told) => ({
      run: 'EARLIER-RUN',
      kind: 'mixing',
      reason: 'it was another batch',
      voids: [JSON.parse(told['late link']!)],
      location: 'RACK-1',
    }),
  },
];
