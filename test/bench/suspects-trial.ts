import type { PiecesOfLot } from '../../src/server/trace/suspects/population.js';
import { Population } from '../../src/server/trace/suspects/population.js';
import { rankNow, type Ranking } from '../../src/server/trace/suspects/rank.js';
import { traceBackward, traceForward } from '../../src/server/trace/walk.js';
import { PlantRandom } from './plant-random.js';
import { fiftyThousand, type NamedCandidate, type SuspectsPlant, suspectsPlant } from './suspects-plant.js';

/** As the job sets them: how many fail with the bad lot and without, and how many of those that failed are heard of. */
const WITH_BAD = 0.05;
const BACKGROUND = 0.002;
const COMPLAINTS = 60;
/** 1 % of the pieces. The last lots of each kind are cut short by the end of the plant; one in 100 pieces brings three complaints or so. */
export const LEAST_EXPOSED = 500;

/** What came of one made-up plant and its complaints. */
export interface Trial {
  readonly ranking: Ranking<NamedCandidate>;
  /** The bad lot, if one was planted, and how many pieces hold it. */
  readonly bad: { readonly lot: number; readonly exposed: number } | null;
}

const at = (lot: number, piece: number): string => `${lot}/${piece}`;

/** The pieces that hold a lot. */
function holding({ genealogy, population }: SuspectsPlant, lot: number): Set<string> {
  const made = new Set(population.map((part) => part.lot));
  const held = new Set<string>();
  for (const reached of traceForward(genealogy, [{ lot, spans: null }]).lots) {
    if (!made.has(reached.lot)) continue;
    for (const [first, last] of reached.spans ?? []) for (let piece = first; piece <= last; piece++) held.add(at(reached.lot, piece));
  }
  return held;
}

/** Complaints about 60 of the pieces that failed, as pieces of lots. */
function complaints({ population }: SuspectsPlant, random: PlantRandom, bad: ReadonlySet<string>): PiecesOfLot[] {
  const failed: { lot: number; piece: number }[] = [];
  for (const { lot, spans } of population) {
    for (const [first, last] of spans) {
      for (let piece = first; piece <= last; piece++) {
        if (random.chance(bad.has(at(lot, piece)) ? WITH_BAD : BACKGROUND)) failed.push({ lot, piece });
      }
    }
  }
  return random.some(failed, COMPLAINTS).map(({ lot, piece }) => ({ lot, spans: [[piece, piece]] }));
}

/** Ranks the suspects of a plant. */
export function rank(plant: SuspectsPlant, failed: readonly PiecesOfLot[]): Ranking<NamedCandidate> {
  const reached = traceBackward(plant.genealogy, plant.population);
  return rankNow(plant.genealogy, reached, new Population(plant.population), failed, plant.candidates);
}

/** One plant of 50,000 pieces with a bad lot: any that was bought and went into at least so many pieces. */
export function trialWithBad(seed: number, leastExposed: number): Trial {
  const plant = suspectsPlant(fiftyThousand(seed));
  const random = new PlantRandom(seed ^ 0x5eed);
  for (;;) {
    const lot = plant.bought[random.whole(0, plant.bought.length - 1)]!;
    const held = holding(plant, lot);
    if (held.size < leastExposed) continue;
    return { ranking: rank(plant, complaints(plant, random, held)), bad: { lot, exposed: held.size } };
  }
}

/** One plant of 50,000 pieces in which nothing is worse than anything else. */
export function trialWithoutBad(seed: number): Trial {
  const plant = suspectsPlant(fiftyThousand(seed));
  return { ranking: rank(plant, complaints(plant, new PlantRandom(seed ^ 0x5eed), new Set())), bad: null };
}

/** Whether the bad lot leads the ranking, alone or with what the same pieces were exposed to or what is as over-represented. */
export const isFound = ({ ranking, bad }: Trial): boolean =>
  ranking.groups.some(({ rank: place, candidates }) => place === 1 && candidates.some(({ parts }) => isLot(parts, bad!.lot)));

const isLot = (parts: NamedCandidate['parts'], lot: number): boolean => parts.length === 1 && parts[0]!.lot === lot;

/** Whether anything is accused at a family-wise risk of 5 %. */
export const accuses = ({ ranking }: Trial): boolean => ranking.groups.some(({ adjustedP }) => adjustedP <= 0.05);
