import { DAY, PlantBook } from './plant-book.js';
import { ITEMS } from './plant-items.js';
import { PumpLine, WaxLine } from './plant-lines.js';
import { PlantRandom } from './plant-random.js';
import type { Plant, PlantLine, PlantLot, PlantSize } from './plant.js';

const CUSTOMERS = 400;
const MEAN_CANS_A_BATCH = 2.5 * 11_000;
const MEAN_UNITS_A_RUN = 275;
const YEAR = 365 * DAY;

/** A plant's whole history: the same for the same size, and conserving, so that it can be brought over as records. */
export function generatePlant(size: PlantSize): Plant {
  const { piecesPerYear, years, seed = 1, unitFraction = 0.02, cleaning = 0.15, siloBatches } = size;
  const random = new PlantRandom(seed);
  const book = new PlantBook(random);
  const wax = new WaxLine(book, piecesPerYear / 1e6, cleaning, siloBatches);
  const pumps = new PumpLine(book);
  const cansPerYear = piecesPerYear * (1 - unitFraction);
  const unitsPerYear = piecesPerYear * unitFraction;
  const end = years * YEAR;
  // Received lots of the first days date from before; the plant begins a month in.
  let nextBatch = cansPerYear > 0 ? 30 * DAY : Infinity;
  let nextBuild = unitsPerYear > 0 ? 30 * DAY + 60 : Infinity;
  while (Math.min(nextBatch, nextBuild) < 30 * DAY + end) {
    if (nextBatch <= nextBuild) {
      wax.batch(Math.round(nextBatch));
      nextBatch += (YEAR * MEAN_CANS_A_BATCH) / cansPerYear;
    } else {
      pumps.build(Math.round(nextBuild));
      nextBuild += (YEAR * MEAN_UNITS_A_RUN) / unitsPerYear;
    }
  }
  book.settleReceived();
  const customers = Array.from({ length: CUSTOMERS }, (_, n) => `C-${String(n + 1).padStart(3, '0')}`);
  const lines = [...dispatch(wax.filled, 960, random, 0), ...dispatch(pumps.built, 96, random, 1_000_000_000)];
  const { lots, runs, links, suppliers } = book;
  return { items: ITEMS, lots, runs, links, lines: numberShipments(lines), suppliers, customers };
}

/** The pieces of each lot that nothing else took, in spans of 12 to `most`, one to six lines a shipment. */
function dispatch(lots: readonly PlantLot[], most: number, random: PlantRandom, from: number): PlantLine[] {
  const lines: PlantLine[] = [];
  let shipment = from;
  let open: Omit<PlantLine, 'shipment' | 'customer' | 'at'>[] = [];
  const ship = (): void => {
    const customer = Math.floor(CUSTOMERS * random.next() ** 2);
    const at = Math.max(0, ...open.map(({ lot }) => lot.at)) + random.whole(DAY, 20 * DAY);
    lines.push(...open.map((line) => ({ ...line, shipment, customer, at })));
    shipment++;
    open = [];
  };
  let wanted = random.whole(1, 6);
  for (const lot of lots) {
    for (const [first, last] of freeSpans(lot)) {
      for (let next = first; next <= last;) {
        const end = Math.min(last, next + random.whole(12, most) - 1);
        if (!random.chance(0.02)) open.push({ lot, first: next, last: end });
        next = end + 1;
        if (open.length < wanted) continue;
        ship();
        wanted = random.whole(1, 6);
      }
    }
  }
  if (open.length > 0) ship();
  return lines;
}

function freeSpans({ pieces, usedPieces }: PlantLot): [number, number][] {
  const used: [number, number][] = [];
  for (let at = 0; at < usedPieces.length; at += 2) used.push([usedPieces[at] ?? 0, usedPieces[at + 1] ?? 0]);
  const free: [number, number][] = [];
  let next = 1;
  for (const [first, last] of used.toSorted((a, b) => a[0] - b[0])) {
    if (first > next) free.push([next, first - 1]);
    next = last + 1;
  }
  if (next <= pieces) free.push([next, pieces]);
  return free;
}

/** Shipments in order of time, numbered from 1. */
function numberShipments(lines: readonly PlantLine[]): PlantLine[] {
  const ordered = lines.toSorted((a, b) => a.at - b.at || a.shipment - b.shipment);
  const numbers = new Map<number, number>();
  return ordered.map((line) => {
    const number = numbers.get(line.shipment) ?? numbers.size + 1;
    numbers.set(line.shipment, number);
    return { ...line, shipment: number };
  });
}
