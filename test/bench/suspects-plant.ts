import { Genealogy } from '../../src/server/trace/genealogy.js';
import type { PiecesOfLot } from '../../src/server/trace/suspects/population.js';
import type { Candidate } from '../../src/server/trace/suspects/rank.js';
import { PlantRandom } from './plant-random.js';

/** A candidate by a name that a reader of a bench understands. */
export interface NamedCandidate extends Candidate {
  readonly name: string;
}

/** A made-up plant: what it made, what it made it of, and who and what had a hand in it. */
export interface SuspectsPlant {
  readonly genealogy: Genealogy;
  /** All pieces that left it: cans and units. */
  readonly population: readonly PiecesOfLot[];
  readonly candidates: readonly NamedCandidate[];
  /** Lots that were bought, by id: one of them may be bad. */
  readonly bought: readonly number[];
}

export interface SuspectsPlantSize {
  readonly seed: number;
  /** Cans, and units that are built. */
  readonly cans: number;
  readonly units: number;
  /** How many times as many lots of a part of the size: 1 is a label reel of about 900 cans. */
  readonly fineness: number;
}

/** 50,000 pieces, and some 400 candidates. */
export const fiftyThousand = (seed: number, fineness = 1): SuspectsPlantSize => ({ seed, cans: 40_000, units: 10_000, fineness });

/** The pieces of a run that one lot of an item went into, and where that lot ends: lots follow each other without regard to runs. */
class Supply {
  lot = 0;
  left = 0;
  constructor(
    readonly name: string,
    readonly mean: number,
  ) {}
}

const PEOPLE = ['ada', 'bo', 'cy', 'dee', 'eli', 'fay', 'gus', 'hal'];

/** Makes the plant; the same for the same size and seed. */
export function suspectsPlant(size: SuspectsPlantSize): SuspectsPlant {
  return new Maker(size).make();
}

class Maker {
  readonly #genealogy = new Genealogy();
  readonly #random: PlantRandom;
  readonly #population: PiecesOfLot[] = [];
  readonly #bought: number[] = [];
  readonly #hands = new Map<string, { lot: number; spans: null }[]>();
  readonly #names: string[] = [];
  readonly #fineness: number;
  #seq = 1;
  #ord = 0;

  constructor(readonly size: SuspectsPlantSize) {
    this.#random = new PlantRandom(size.seed);
    this.#fineness = size.fineness;
  }

  make(): SuspectsPlant {
    this.#makeCans();
    this.#makeUnits();
    this.#genealogy.commitUpTo(this.#seq);
    this.#genealogy.compact();
    const lots = this.#names.map((name, at) => ({ name, parts: [{ lot: at + 1, spans: null }] }));
    const hands = [...this.#hands].map(([name, parts]) => ({ name, parts }));
    return { genealogy: this.#genealogy, population: this.#population, candidates: [...lots, ...hands], bought: this.#bought };
  }

  /** Raw materials into batches, with heels until the vessel is cleaned; batches into cans, with changeovers of bodies, lids and labels. */
  #makeCans(): void {
    const raws = ['wax base', 'oil', 'solvent', 'dye'].map((name) => new Supply(name, 6000));
    const packs = [new Supply('bodies', 1500), new Supply('lids', 3000), new Supply('labels', 900)];
    const heels = new Map<string, { batch: number; stay: string }>();
    for (let made = 0, run = 1; made < this.size.cans; run++) {
      const cans = Math.min(this.#around(2000), this.size.cans - made);
      const vessel = `vessel ${this.#random.whole(1, 3)}`;
      const batch = this.#lot('batch', 0);
      for (const supply of raws) this.#draw(supply, cans, (lot) => this.#link(lot, 0, 0, batch, 0, 0));
      const heel = this.#random.chance(0.35) ? undefined : heels.get(vessel);
      if (heel) this.#link(heel.batch, 0, 0, batch, 0, 0);
      const stay = heel?.stay ?? `${vessel} from batch ${batch} on`;
      heels.set(vessel, { batch, stay });
      this.#ran(`mixing run ${run}`, batch, [stay]);
      const filled = this.#lot('filling', cans);
      this.#link(batch, 0, 0, filled, 1, cans);
      for (const supply of packs) this.#draw(supply, cans, (lot, first, last) => this.#link(lot, 0, 0, filled, first, last));
      this.#ran(`filling run ${run}`, filled, [`filling line ${this.#random.whole(1, 2)}`]);
      this.#population.push({ lot: filled, spans: [[1, cans]] });
      made += cans;
    }
  }

  /** Bar into barrels, barrels one by one into units, with seals and hoses by changeover and gauges by serial out of open boxes. */
  #makeUnits(): void {
    const bars = new Supply('bar', 2000);
    const packs = [new Supply('seals', 1200), new Supply('hoses', 800)];
    for (let made = 0, run = 1; made < this.size.units; run++) {
      const units = Math.min(this.#around(500), this.size.units - made);
      const barrels = this.#lot('barrels', units);
      this.#draw(bars, units, (lot, first, last) => this.#link(lot, 0, 0, barrels, first, last));
      this.#ran(`machining run ${run}`, barrels, [`lathe ${this.#random.whole(1, 4)}`]);
      const built = this.#lot('units', units);
      this.#link(barrels, 1, units, built, 1, units, true);
      for (const supply of packs) this.#draw(supply, units, (lot, first, last) => this.#link(lot, 0, 0, built, first, last));
      this.#gauges(built, units);
      this.#ran(`building run ${run}`, built, [`bench ${this.#random.whole(1, 5)}`]);
      this.#population.push({ lot: built, spans: [[1, units]] });
      made += units;
    }
  }

  /** Gauges of two boxes at a time, taken as the hand finds them. */
  #gauges(built: number, units: number): void {
    const boxes = Array.from({ length: 2 * Math.ceil(this.#fineness) }, () => ({ lot: this.#lot('gauges', units, true), next: 1 }));
    for (let unit = 1; unit <= units; unit++) {
      const box = boxes[this.#random.whole(0, boxes.length - 1)]!;
      this.#link(box.lot, box.next, box.next, built, unit, unit, true);
      box.next++;
    }
  }

  /** Takes enough of a supply for pieces 1 to `pieces`, opening lots as they end. */
  #draw(supply: Supply, pieces: number, into: (lot: number, first: number, last: number) => void): void {
    for (let first = 1; first <= pieces;) {
      if (supply.left === 0) {
        supply.lot = this.#lot(supply.name, 0, true);
        supply.left = this.#around(supply.mean);
      }
      const last = Math.min(pieces, first + supply.left - 1);
      into(supply.lot, first, last);
      supply.left -= last - first + 1;
      first = last + 1;
    }
  }

  #ran(run: string, lot: number, places: readonly string[]): void {
    this.#seq++;
    this.#ord = 0;
    for (const hand of [run, ...places, ...this.#random.some(PEOPLE, 2)]) {
      const parts = this.#hands.get(hand) ?? [];
      this.#hands.set(hand, parts);
      parts.push({ lot, spans: null });
    }
  }

  /** A number between half and one and a half of the mean, of which smaller lots have a part. */
  #around(mean: number): number {
    return Math.max(1, Math.round((mean * (0.5 + this.#random.next())) / this.#fineness));
  }

  #lot(name: string, pieces: number, bought = false): number {
    const id = this.#names.length + 1;
    this.#names.push(`${name} lot ${id}`);
    this.#genealogy.addLot(id, pieces);
    if (bought) this.#bought.push(id);
    return id;
  }

  #link(fromLot: number, fromFirst: number, fromLast: number, toLot: number, toFirst: number, toLast: number, each = false): void {
    const what = { quantityMicro: 0, massMicro: 0, map: each ? ('each' as const) : ('all' as const), blends: false };
    this.#genealogy.append({ seq: this.#seq, ord: this.#ord++, fromLot, fromFirst, fromLast, toLot, toFirst, toLast, ...what });
  }
}
