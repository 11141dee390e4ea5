import { catalogueFernhollow, receiveReleased, release } from './fernhollow.js';
import type { Plant } from './harness.js';
import { chargeRecipe, done, operator, post, type Raw, rawMaterials, wait } from './making.js';

/** What tests of a filling from two batches look at. */
export interface TwoBatches {
  readonly raw: Raw;
  readonly otherWax: string;
  readonly batches: readonly [string, string];
  readonly runs: readonly [string, string];
  readonly cleanedAt: string;
  readonly labels: readonly [string, string];
  readonly filling: string;
  readonly cans: string;
}

const START = { kind: 'mixing', item: 'MIX-WAX', recipe: 'RCP-WAX', vessel: 'V-1' } as const;
const FILL = {
  kind: 'filling',
  item: 'WAX-250',
  bom: 'BOM-WAX-250',
  line: 'FILL-1',
  clearance: { confirmed: true, checkedBy: 'operator-2' },
  label: { text: 'Chain wax 250 g, lot {lot}, best before {date}', code: 'LBL-WAX-3' },
} as const;

/** A mixed and released batch of the recipe, and its run. */
async function mixed(plant: Plant, raw: Raw, people: readonly string[]): Promise<{ batch: string; run: string }> {
  const { run } = await post(plant, '/api/runs', { ...START, people });
  await chargeRecipe(plant, run, raw);
  const { lot } = await post(plant, `/api/runs/${run}/close`, { quantity: '98' });
  await release(plant, [lot!]);
  return { batch: lot!, run };
}

/**
 * 600 cans: 1-390 of a first batch, 391-600 of a second that was mixed in the same kettle after it was cleaned, of another lot of wax, by two
 * people. The reel of labels was changed at can 481.
 */
export async function tellStory(plant: Plant): Promise<TwoBatches> {
  await catalogueFernhollow(plant);
  const raw = await rawMaterials(plant);
  const [otherWax] = (await receiveReleased(plant, [{ item: 'WAX-BASE', quantity: '500', supplierLot: 'LW-78' }])) as [string];
  const first = await mixed(plant, raw, ['operator-1']);
  // What is left in the kettle is drummed off, and each filled from where it stands.
  done(await operator(plant).post('/api/vessels/V-1/emptied', { location: 'RACK-1', reason: 'drummed off' }));
  const cleanedAt = wait(plant, 10);
  done(await operator(plant).post('/api/vessels/V-1/cleaned', { method: 'hot rinse' }));
  wait(plant, 10);
  const second = await mixed(plant, { ...raw, wax: otherWax }, ['operator-1', 'operator-2']);
  const [cans, lids, labels, moreLabels] = (await receiveReleased(
    plant,
    [
      { item: 'CAN-250', quantity: '600' },
      { item: 'LID-250', quantity: '600' },
      { item: 'LBL-250', quantity: '500' },
      { item: 'LBL-250', quantity: '120' },
    ],
    'S-PACK',
  )) as [string, string, string, string];
  const { run: filling } = await post(plant, '/api/runs', { ...FILL, people: ['operator-1'] });
  await post(plant, `/api/runs/${filling}/charges`, {
    charges: [
      { lot: first.batch, quantity: '98' },
      { lot: second.batch, quantity: '53', fromPiece: 391 },
      { lot: cans, quantity: '600' },
      { lot: lids, quantity: '600' },
      { lot: labels, quantity: '480', fromPiece: 1 },
      { lot: moreLabels, quantity: '120', fromPiece: 481 },
    ],
  });
  const closed = await post(plant, `/api/runs/${filling}/close`, { pieces: 600, location: 'FG-1' });
  return {
    raw,
    otherWax,
    batches: [first.batch, second.batch],
    runs: [first.run, second.run],
    cleanedAt,
    labels: [labels, moreLabels],
    filling,
    cans: closed.lot!,
  };
}
