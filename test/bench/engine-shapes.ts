import { Genealogy } from '../../src/server/trace/genealogy.js';
import { PlantRandom } from './plant-random.js';

/** Plants made to be hard, one link an entry. */
function built(lots: number[], links: readonly (readonly number[])[], massMicro: number): Genealogy {
  const genealogy = new Genealogy();
  for (const [at, count] of lots.entries()) genealogy.addLot(at + 1, count);
  for (const [at, [fromLot = 0, fromFirst = 0, fromLast = 0, toLot = 0, toFirst = 0, toLast = 0]] of links.entries()) {
    const link = { seq: at + 1, ord: 0, fromLot, fromFirst, fromLast, toLot, toFirst, toLast };
    genealogy.append({ ...link, quantityMicro: 1_000_000, massMicro, map: 'all', blends: massMicro > 0 });
  }
  genealogy.commitUpTo(links.length);
  genealogy.compact();
  return genealogy;
}

/** Lot 1 into two lots that join again, and so on: 2^steps paths to the last lot. */
export function diamond(steps: number): Genealogy {
  const links: number[][] = [];
  for (let step = 0; step < steps; step++) {
    const top = 1 + step * 3;
    links.push([top, 0, 0, top + 1], [top, 0, 0, top + 2], [top + 1, 0, 0, top + 3], [top + 2, 0, 0, top + 3]);
  }
  return built(
    Array.from({ length: steps * 3 + 1 }, () => 0),
    links,
    1_000_000,
  );
}

/** Lot 1 repacked through windows of all sizes that overlap and never line up; every stage has 10,000 pieces. */
export function repacking(stages: number): Genealogy {
  const random = new PlantRandom(7);
  const window = (near: number): [number, number] => {
    const first = Math.min(9_900, Math.max(1, near + random.whole(-40, 40)));
    return [first, first + random.whole(10, 90)];
  };
  const links: number[][] = [];
  for (let stage = 1; stage <= stages; stage++) {
    for (let near = 1; near < 10_000; near += 5) links.push([stage, ...window(near), stage + 1, ...window(near)]);
  }
  return built(
    Array.from({ length: stages + 1 }, () => 10_000),
    links,
    0,
  );
}

/** Every link of a plant, for filling a database. */
export function* everyLink(genealogy: Genealogy) {
  for (let row = 0; row < genealogy.linkCount; row++) yield genealogy.table.read(row);
}
