import { addDays } from '../../../shared/time.js';
import { Dice } from './dice.js';
import type { Fernhollow } from './fernhollow.js';
import { Pantry } from './pantry.js';
import type { Leaking } from './reporting.js';
import { DEMO_PASSWORD } from '../plant/people/demo-password.js';
import type { PlantDesk, Worker } from './plant-desk.js';

/** What the people of the story share: the desk they work at, chance, the shelves, and what happened so far. */
export class Story {
  readonly dice: Dice;
  /** What the laboratory reads. */
  readonly laboratory: Dice;
  readonly pantry = new Pantry();
  /** Plant lot by supplier's lot. */
  readonly lotsOf = new Map<string, string>();
  /** Serials of pumps, by lot. */
  readonly serialsOf = new Map<string, readonly string[]>();
  /** Batch lots in the order they were made, with the vessel and what is left of them. */
  readonly batches: { lot: string; vessel: string; date: string; left: number }[] = [];
  /** Batches of which a first filling was made. */
  readonly filled = new Set<string>();
  /** Pieces sent, for returns and complaints. */
  readonly sent: { shipment: string; customer: string; item: string; lot: string; first: number; last: number; date: string }[] = [];

  readonly cameBack = new Set<Story['sent'][number]>();
  /** Pumps that came back leaking and wait at the bench. */
  readonly leaking: Leaking[] = [];
  /** Cans that came back dented and wait to go into a batch again. */
  readonly dented: { lot: string; first: number; last: number }[] = [];

  constructor(
    readonly desk: PlantDesk,
    readonly plant: Fernhollow,
  ) {
    this.dice = new Dice(plant.seed);
    this.laboratory = new Dice(plant.seed + 1);
  }

  as(person: string): Worker {
    return this.desk.worker(person);
  }

  /** It is this late now, or later already: people write some things down after the fact. Answers the instant. */
  clock(instant: string): string {
    if (instant > this.desk.clock.now()) this.desk.clock.set(instant);
    return instant;
  }

  /** A signed decision. */
  sign<Body = unknown>(person: string, path: string, body: object): Promise<Body> {
    return this.as(person).post<Body>(path, { ...body, password: DEMO_PASSWORD });
  }

  /** Cans free to ship: whole stretches between those that are gone. */
  addCans(lot: string, cans: number, gone: ReadonlySet<number>): void {
    let first = 1;
    for (let can = 1; can <= cans + 1; can++) {
      if (can <= cans && !gone.has(can)) continue;
      if (can > first) this.pantry.addPieces(lot, 'WAX-250', first, can - 1);
      first = can + 1;
    }
  }

  dateAfter(date: string, days: number): string {
    return addDays(date, days);
  }
}
