import { Genealogy } from '../../src/server/trace/genealogy.js';
import type { Link } from '../../src/server/trace/link.js';
import type { Plant } from './plant.js';

/** The links of a generated plant as the ledger would have them: one entry a run, starting with entry 1. */
export function* linksOf({ runs, links }: Plant): Generator<Link> {
  for (const [at, run] of runs.entries()) {
    const end = runs[at + 1]?.firstLink ?? links.count;
    for (let row = run.firstLink; row < end; row++) {
      const massMicro = links.massMicro[row] ?? 0;
      yield {
        seq: at + 1,
        ord: row - run.firstLink,
        fromLot: links.fromLot[row] ?? 0,
        fromFirst: links.fromFirst[row] ?? 0,
        fromLast: links.fromLast[row] ?? 0,
        toLot: links.toLot[row] ?? 0,
        toFirst: links.toFirst[row] ?? 0,
        toLast: links.toLast[row] ?? 0,
        quantityMicro: links.quantityMicro[row] ?? 0,
        massMicro,
        map: links.each[row] ? 'each' : 'all',
        blends: massMicro > 0,
      };
    }
  }
}

/** The index of a generated plant. @param packed the part of the links that is packed; the rest waits in the delta */
export function indexOfPlant(plant: Plant, packed = 1): Genealogy {
  const genealogy = new Genealogy();
  for (const { id, pieces } of plant.lots) genealogy.addLot(id, pieces);
  genealogy.table.reserve(plant.links.count);
  const packedRuns = Math.round(plant.runs.length * packed);
  for (const link of linksOf(plant)) {
    if (link.seq > packedRuns && genealogy.committedSeq < packedRuns) packUpTo(genealogy, packedRuns);
    genealogy.append(link);
  }
  genealogy.commitUpTo(plant.runs.length);
  if (packed === 1) genealogy.compact();
  return genealogy;
}

function packUpTo(genealogy: Genealogy, seq: number): void {
  genealogy.commitUpTo(seq);
  genealogy.compact();
}
