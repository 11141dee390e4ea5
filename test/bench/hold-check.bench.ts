import type { EntityManager } from 'typeorm';
import { Commands } from '../../src/server/plant/commands.js';
import type { HoldPlaced } from '../../src/server/plant/holds/holds.facts.js';
import { openHolds } from '../../src/server/plant/holds/holds.query.js';
import { lotStates } from '../../src/server/plant/stock/lot-state.query.js';
import { queryRows } from '../../src/server/platform/database/rows.js';
import { Lineage } from '../../src/server/trace/lineage.js';
import type { Bars } from './bar.js';
import { openApp, withPlant } from './bench-plant.js';
import { median, milliseconds } from './measure.js';

const CHARGES = 200;
const ACTOR = { person: 'bench', roles: ['administrator' as const] };

/** Thrown to take back what was only recorded to be measured. */
class TakenBack extends Error {}

/** What rule 4 costs a charge: the state of a lot with and without a reaching hold anywhere in the plant. */
export async function benchHoldCheck(bars: Bars, folder: string): Promise<void> {
  const app = await openApp(await withPlant(folder));
  const lineage = app.get(Lineage);
  const outcome = await app
    .get(Commands)
    .run(ACTOR, {}, async (tx, record, at) => {
      const lots = await queryRows<{ code: string }>(tx, `SELECT "code" FROM "lot" WHERE "origin" = 'made' ORDER BY "id" DESC LIMIT ?`, [
        CHARGES,
      ]);
      const codes = lots.map((lot) => lot.code);
      await charges(tx, lineage, codes.slice(0, 50)); // warms caches and code
      const without = await charges(tx, lineage, codes);
      await record([await holdOnFirstLot(tx, at)]);
      if ((await openHolds(tx)).length === 0) throw new Error('the hold was not recorded');
      const withHold = await charges(tx, lineage, codes);
      const added = withHold.map((took, i) => took - without[i]!);
      bars.atMost('hold check adds to a charge, median', median(added), 2, 'ms');
      bars.note('the slowest of them', Math.max(...added), 'ms');
      bars.note('state of a lot without it', median(without), 'ms');
      throw new TakenBack();
    })
    .catch((error: unknown) => error);
  await app.close();
  if (!(outcome instanceof TakenBack)) throw outcome;
}

async function charges(tx: EntityManager, lineage: Lineage, codes: readonly string[]): Promise<number[]> {
  const times: number[] = [];
  for (const lot of codes) times.push(await milliseconds(() => lotStates(tx, lineage, [{ lot, spans: null }])));
  return times;
}

async function holdOnFirstLot(tx: EntityManager, at: string): Promise<HoldPlaced> {
  const [lot] = await queryRows<{ code: string }>(tx, 'SELECT "code" FROM "lot" ORDER BY "id" LIMIT 1');
  return {
    kind: 'HoldPlaced',
    v: 1,
    hold: 'H-BENCH',
    parts: [{ lot: lot!.code, spans: null, quantityMicro: null }],
    reaches: true,
    reason: 'to measure what a hold costs',
    owner: 'bench',
    signature: { by: 'bench', at, meaning: 'measured only' },
  };
}
