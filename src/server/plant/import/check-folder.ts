import type { EntityManager } from 'typeorm';
import { Refusal } from '../../../../shared/refusal.js';
import type { Lineage } from '../../trace/lineage.js';
import type { LotState } from '../stock/lot-state.facts.js';
import { lotStates } from '../stock/lot-state.query.js';
import { Breath } from './breath.js';
import { checkAncestry, type PlantPath } from './check-ancestry.js';
import { checkBalance } from './check-balance.js';
import { checkLinks, checkShipmentLines } from './check-links.js';
import { checkCatalogue, checkLots } from './check-names.js';
import { checkShipments } from './check-shipments.js';
import type { Faults } from './faults.js';
import { type Folder, NOT_GIVEN } from './folder.js';
import { earlierFiles, plantState, type PlantState, reachedBy } from './import.query.js';
import { KnownLots } from './known-lots.js';
import { checkOutsideUses, type OutsideUse, outsideUses } from './outside-uses.js';
import type { OnProgress } from './read-folder.js';
import { Uses } from './uses.js';

/** What a check needs: inside the command that will write, or outside of one for a dry run. */
export interface Checking {
  readonly tx: EntityManager;
  readonly lineage: Lineage;
  readonly folder: Folder;
  readonly faults: Faults;
  readonly at: string;
  readonly onProgress: OnProgress;
}

/** What the writing builds on. */
export interface Checked {
  readonly lots: KnownLots;
  readonly uses: Uses;
  /** Lots of the plant that the files take from. */
  readonly states: ReadonlyMap<string, LotState>;
}

/** How many lots of the plant are asked for at once. */
const STATES_AT_ONCE = 500;

/** The same file again is refused, not doubled. @see docs/rules/import.md I-14 */
export async function refuseEarlier(tx: EntityManager, folder: Folder): Promise<void> {
  const earlier = await earlierFiles(tx, folder);
  const first = earlier[0];
  if (!first) return;
  const files = [...new Set(earlier.map((one) => one.file))].toSorted();
  const were = files.length === 1 ? 'was' : 'were';
  throw new Refusal('conflict', [
    {
      code: 'imported-before',
      detail: `${files.join(', ')} ${were} brought over before: by import ${first.import} on ${first.at}, by ${first.by}`,
      import: first.import,
      at: first.at,
      by: first.by,
      files,
    },
  ]);
}

/** Checks what the files say against each other and against the plant, and reports every fault. */
export async function checkFolder({ tx, lineage, folder, faults, at, onProgress }: Checking): Promise<Checked> {
  const breath = new Breath();
  const plant = await plantState(tx, folder, at);
  const lots = new KnownLots(folder, plant);
  checkCatalogue(folder, plant, faults);
  await checkLots(folder, plant, lots, faults, breath);
  checkShipments(folder, plant, faults);
  await checkLinks(lots, plant, faults, breath, onProgress);
  await checkShipmentLines(lots, faults, breath);
  const uses = await Uses.of(folder, breath);
  await checkBalance(lots, uses, faults, breath);
  await checkAncestry(folder, await plantPaths(tx, folder, plant, breath), faults, breath);
  const asked = outsideUses(lots, uses);
  const states = await statesOf(tx, lineage, asked);
  checkOutsideUses(asked, states, uses, faults);
  return { lots, uses, states };
}

async function statesOf(tx: EntityManager, lineage: Lineage, asked: readonly OutsideUse[]): Promise<Map<string, LotState>> {
  const states = new Map<string, LotState>();
  for (let start = 0; start < asked.length; start += STATES_AT_ONCE) {
    for (const [lot, state] of await lotStates(tx, lineage, asked.slice(start, start + STATES_AT_ONCE))) states.set(lot, state);
  }
  return states;
}

/** Ways from a lot of the plant that the files put something into to one they take something out of. */
async function plantPaths(tx: EntityManager, folder: Folder, plant: PlantState, breath: Breath): Promise<PlantPath[]> {
  const into = new Set<number>();
  const numbers = new Map<number, number>();
  const { links } = folder;
  for (let row = 0; row < links.count; row++) {
    if (breath.due()) await breath.take();
    if (links.sound.at(row) === 0) continue;
    const from = links.from.at(row);
    const to = links.to.at(row);
    if (to !== NOT_GIVEN && !folder.isOwn(to)) into.add(to);
    if (from !== NOT_GIVEN && !folder.isOwn(from)) numbers.set(plant.lots.get(folder.lotNames.text(from))!.id, from);
  }
  if (numbers.size === 0) return [];
  const among = new Set(numbers.keys());
  const paths: PlantPath[] = [];
  for (const to of into) {
    const { id } = plant.lots.get(folder.lotNames.text(to))!;
    for (const reached of await reachedBy(tx, id, among)) paths.push({ from: to, to: numbers.get(reached)! });
  }
  return paths;
}
