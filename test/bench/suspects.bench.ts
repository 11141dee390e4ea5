import { Reader } from '../../src/server/platform/database/reader.js';
import { queryRows } from '../../src/server/platform/database/rows.js';
import type { PiecesOfLot } from '../../src/server/trace/suspects/population.js';
import { Population } from '../../src/server/trace/suspects/population.js';
import { rankSuspects } from '../../src/server/trace/suspects/rank.js';
import { type SuspectsRequest, SuspectsService } from '../../src/server/trace/suspects/suspects.service.js';
import { traceBackward } from '../../src/server/trace/walk.js';
import type { Bars } from './bar.js';
import { openApp, withPlant } from './bench-plant.js';
import { median, milliseconds } from './measure.js';
import { PlantRandom } from './plant-random.js';
import { fiftyThousand, type SuspectsPlant, suspectsPlant, type SuspectsPlantSize } from './suspects-plant.js';
import { accuses, isFound, LEAST_EXPOSED, rank, trialWithBad, trialWithoutBad } from './suspects-trial.js';

const PLANTED = 100;
const BLAMELESS = 1000;
/** Seeds that no planted trial uses. */
const BLAMELESS_FROM = 100_000;

/** Whether a planted cause is found, how often the blameless are accused, and how long it takes. */
export async function benchSuspects(bars: Bars, folder: string): Promise<void> {
  const seeds = (count: number, from: number): number[] => Array.from({ length: count }, (_, k) => from + k);
  const found = seeds(PLANTED, 1).filter((seed) => isFound(trialWithBad(seed, LEAST_EXPOSED)));
  bars.atLeast(`of ${PLANTED} bad lots in at least 1 % of the pieces, found`, found.length, 95, 'lots');
  const any = seeds(PLANTED, 1).filter((seed) => isFound(trialWithBad(seed, 1)));
  bars.note(`of ${PLANTED} bad lots however few pieces hold them, found`, any.length, 'lots');
  const accused = seeds(BLAMELESS, BLAMELESS_FROM).filter((seed) => accuses(trialWithoutBad(seed)));
  bars.atMost(`of ${BLAMELESS} plants without a bad lot, something accused`, (100 * accused.length) / BLAMELESS, 5, '%');
  await benchTime(bars, 'cans and units', fiftyThousand(1, 4.1));
  await benchTime(bars, 'units with gauges out of many open boxes', { seed: 1, cans: 0, units: 50_000, fineness: 5 });
  await benchAsked(bars, folder);
}

async function benchTime(bars: Bars, what: string, size: SuspectsPlantSize): Promise<void> {
  const plant = suspectsPlant(size);
  for (const count of [60, 5000]) {
    const failed = failures(plant, count);
    const { candidates } = rank(plant, failed);
    const times: number[] = [];
    for (let round = 0; round < 7; round++) times.push(await milliseconds(() => rank(plant, failed)));
    bars.atMost(`50,000 ${what}, ${candidates} candidates, ${count} failed: ranked`, median(times), 1000, 'ms');
    bars.note('the longest nothing else can be done meanwhile', longestSlice(plant, failed), 'ms');
  }
}

function failures({ population }: SuspectsPlant, count: number): PiecesOfLot[] {
  const all = population.flatMap(({ lot, spans }) =>
    spans.flatMap(([first, last]) => Array.from({ length: last - first + 1 }, (_, k) => ({ lot, piece: first + k }))),
  );
  return new PlantRandom(7).some(all, count).map(({ lot, piece }) => ({ lot, spans: [[piece, piece]] }));
}

function longestSlice(plant: SuspectsPlant, failed: readonly PiecesOfLot[]): number {
  let longest = 0;
  let last = performance.now();
  const reached = traceBackward(plant.genealogy, plant.population);
  for (const _ of rankSuspects(plant.genealogy, reached, new Population(plant.population), failed, plant.candidates)) {
    longest = Math.max(longest, performance.now() - last);
    last = performance.now();
  }
  return Math.max(longest, performance.now() - last);
}

/** The same asked of the server, rows and all, of the newest 50,000 cans and units of ten years of a plant. */
async function benchAsked(bars: Bars, folder: string): Promise<void> {
  const app = await openApp(await withPlant(folder));
  const suspects = app.get(SuspectsService);
  for (const [what, prefix] of [
    ['cans', 'F-'],
    ['units', 'U-'],
  ] as const) {
    const question = newest(
      await queryRows<{ code: string; pieces: number }>(
        app.get(Reader).manager,
        'SELECT "code", "pieces" FROM "lot" WHERE "code" LIKE ? AND "pieces" > 0 ORDER BY "id" DESC LIMIT 2000',
        [`${prefix}%`],
      ),
    );
    const { totals } = await suspects.rank(question);
    const times: number[] = [];
    for (let round = 0; round < 5; round++) times.push(await milliseconds(() => suspects.rank(question)));
    bars.note(`asked of ten years: 50,000 ${what}, ${totals.candidates} candidates`, median(times), 'ms');
  }
  await app.close();
}

/** The first 50,000 pieces of some lots, of which some 60 failed. */
function newest(lots: readonly { readonly code: string; readonly pieces: number }[]): SuspectsRequest {
  const population: { lot: string; pieces: string }[] = [];
  const failed = new Map<string, { lot: string; pieces: string }>();
  const random = new PlantRandom(3);
  let left = 50_000;
  for (const { code, pieces } of lots) {
    const taken = Math.min(left, pieces);
    if (taken === 0) break;
    population.push({ lot: code, pieces: `1-${taken}` });
    left -= taken;
  }
  while (failed.size < 60) {
    const { lot, pieces } = population[random.whole(0, population.length - 1)]!;
    const piece = String(random.whole(1, Number(pieces.slice(2))));
    failed.set(`${lot}/${piece}`, { lot, pieces: piece });
  }
  return { population, failed: [...failed.values()] };
}
