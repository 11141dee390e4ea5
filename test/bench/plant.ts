/** How much a generated plant makes; figures and proportions are those the performance targets were set with. */
export interface PlantSize {
  /** Cans and units together. */
  readonly piecesPerYear: number;
  readonly years: number;
  readonly seed?: number;
  /** Units as a part of all pieces; each is built from serial-numbered sub-assemblies, and so from one link a piece. */
  readonly unitFraction?: number;
  /** How often a vessel is cleaned between batches, which ends the heel. */
  readonly cleaning?: number;
  /** Batches that a lot of a common raw material lasts, to its end, when it comes out of a silo. Otherwise lots change as drums do. */
  readonly siloBatches?: number;
}

export const SIZES = {
  /** Small enough for a naive trace of every lot. */
  tiny: { piecesPerYear: 350_000, years: 1, unitFraction: 0.01, cleaning: 0.1 },
  small: { piecesPerYear: 1_000_000, years: 1 },
  medium: { piecesPerYear: 1_000_000, years: 10 },
  /** About a million links. */
  million: { piecesPerYear: 2_300_000, years: 10 },
  /** One lot of a raw material in more than 5,000 others: its batches, those their heels went into, and the runs that filled them. */
  silo: { piecesPerYear: 25_000_000, years: 2, unitFraction: 0, siloBatches: 1_500 },
} as const satisfies Record<string, PlantSize>;

export type RunKind = 'mixing' | 'filling' | 'building' | 'rework';

export interface PlantItem {
  readonly code: string;
  readonly name: string;
  readonly class: 'raw-material' | 'packaging' | 'component' | 'mixture' | 'filled' | 'assembled';
  readonly unit: 'kg' | 'each';
}

/** Times are whole minutes since the plant began. Quantities are whole millionths. `pieces` is 0 for a bulk lot. */
export interface PlantLot {
  readonly id: number;
  readonly code: string;
  readonly item: string;
  readonly pieces: number;
  readonly received: boolean;
  readonly at: number;
  readonly supplier: string;
  quantityMicro: number;
  /** Taken by links so far. */
  usedMicro: number;
  /** Pieces taken by links, as pairs. */
  readonly usedPieces: number[];
}

export interface PlantRun {
  readonly code: string;
  readonly kind: RunKind;
  readonly at: number;
  /** Its links are the rows from here to the first link of the next run. */
  readonly firstLink: number;
}

export interface PlantLine {
  readonly shipment: number;
  readonly customer: number;
  readonly at: number;
  readonly lot: PlantLot;
  readonly first: number;
  readonly last: number;
}

/** Links as columns: a million objects would be most of the memory. */
export class PlantLinks {
  readonly fromLot: number[] = [];
  readonly fromFirst: number[] = [];
  readonly fromLast: number[] = [];
  readonly toLot: number[] = [];
  readonly toFirst: number[] = [];
  readonly toLast: number[] = [];
  readonly quantityMicro: number[] = [];
  readonly massMicro: number[] = [];
  readonly each: boolean[] = [];

  get count(): number {
    return this.fromLot.length;
  }

  push(
    from: readonly [lot: number, first: number, last: number],
    to: readonly [lot: number, first: number, last: number],
    quantityMicro: number,
    massMicro: number,
    each = false,
  ): void {
    this.fromLot.push(from[0]);
    this.fromFirst.push(from[1]);
    this.fromLast.push(from[2]);
    this.toLot.push(to[0]);
    this.toFirst.push(to[1]);
    this.toLast.push(to[2]);
    this.quantityMicro.push(quantityMicro);
    this.massMicro.push(massMicro);
    this.each.push(each);
  }
}

export interface Plant {
  readonly items: readonly PlantItem[];
  /** By id minus 1. */
  readonly lots: readonly PlantLot[];
  readonly runs: readonly PlantRun[];
  readonly links: PlantLinks;
  readonly lines: readonly PlantLine[];
  readonly suppliers: readonly string[];
  readonly customers: readonly string[];
}
