import type { Defect, InspectionPlan } from './inspection-plan.facts.js';
import type { PlantFact, Unit } from '../stock/effects.facts.js';

export const ITEM_CLASSES = ['raw-material', 'packaging', 'component', 'mixture', 'filled', 'assembled'] as const;
export type ItemClass = (typeof ITEM_CLASSES)[number];

/** Anything bought, made or sold. */
export interface Item {
  readonly code: string;
  readonly name: string;
  readonly class: ItemClass;
  readonly unit: Unit;
  /** Lots of it are a quantity (`bulk`), numbered pieces (`pieces`), or pieces with serials of their own (`serial`). */
  readonly tracking: 'bulk' | 'pieces' | 'serial';
  readonly gtin?: string | undefined;
  /** Millionths of kg per L. */
  readonly densityMicro?: number | undefined;
  readonly shelfLifeDays?: number | undefined;
  /** Nominal content of one can, in millionths of a kilogram. */
  readonly contentMicro?: number | undefined;
  /** Pattern of generated serials, as `K-{n:5}`. */
  readonly serialPattern?: string | undefined;
  readonly hazard?: string | undefined;
  readonly storage?: string | undefined;
}

export interface Party {
  readonly code: string;
  readonly name: string;
  readonly role: 'supplier' | 'customer' | 'both';
  readonly gln?: string | undefined;
  /** Whom to tell in a recall. */
  readonly contact?: string | undefined;
}

/** A tank or kettle: what is left in it goes into the next batch until it is emptied and cleaned. */
export interface Vessel {
  readonly code: string;
  readonly name: string;
  readonly capacityMicro?: number | undefined;
}

/** A filling, machining or assembly line. */
export interface Line {
  readonly code: string;
  readonly name: string;
}

/** A place where stock stands. Vessels are places too, without being listed here. */
export interface Location {
  readonly code: string;
  readonly name: string;
  /** What it is for: ordinary stock, quarantine, or retain samples. */
  readonly use: 'stock' | 'quarantine' | 'retain';
}

/** One step of a recipe, in order. */
export interface RecipeStep {
  readonly item: string;
  /** For the recipe's batch size, in millionths of the item's unit. */
  readonly targetMicro: number;
  /** Allowed difference from the target, in hundredths of a percent (250 is 2.5 %). */
  readonly toleranceBp: number;
  /** Shortest mixing time after this charge before the next, in whole minutes. */
  readonly mixMinutes: number;
}

export interface Recipe {
  readonly code: string;
  readonly name: string;
  /** The mixture it makes. */
  readonly item: string;
  /** Millionths of the mixture's unit. */
  readonly batchMicro: number;
  readonly steps: readonly RecipeStep[];
  /** Smallest and largest yield that needs no explanation, in hundredths of a percent of theory. */
  readonly yieldBp: readonly [low: number, high: number];
}

export interface BomLine {
  readonly item: string;
  /** Per unit (or per piece filled, or per piece machined), in millionths of the item's unit. */
  readonly perPieceMicro: number;
  /** Consumed by lot with changeovers, or serial into serial. */
  readonly trackedBy: 'lot' | 'serial';
}

/** What one piece of an item is made of: components of a unit, packaging of a can, stock of a machined part. */
export interface Bom {
  readonly code: string;
  readonly name: string;
  readonly item: string;
  readonly lines: readonly BomLine[];
}

/** A gauge or tester with a calibration state; a test result names the one it was taken with. */
export interface Instrument {
  readonly code: string;
  readonly name: string;
  /** What it is, as `calliper`, `balance`, `viscometer`. */
  readonly kind: string;
  /** The maker's number on it. */
  readonly serial?: string | undefined;
  /** Smallest step it shows, with its unit, as `0.01 mm`. */
  readonly resolution?: string | undefined;
  /** Days from one calibration to the day the next is due. */
  readonly intervalDays: number;
  readonly use: 'in-use' | 'withdrawn';
}

export interface CatalogueKinds {
  item: Item;
  party: Party;
  vessel: Vessel;
  line: Line;
  location: Location;
  recipe: Recipe;
  bom: Bom;
  instrument: Instrument;
  'inspection-plan': InspectionPlan;
  defect: Defect;
}
export type CatalogueKind = keyof CatalogueKinds;

/** One revision of one catalogue record; earlier revisions stay readable and runs keep the one they were made by. */
export type CatalogueRevised<K extends CatalogueKind = CatalogueKind> = PlantFact & {
  readonly kind: 'CatalogueRevised';
  readonly v: 1;
  readonly what: K;
  readonly revision: number;
  readonly reason?: string | undefined;
  readonly record: CatalogueKinds[K];
};

/** Many first revisions at once, as an import brings them. */
export type CatalogueBroughtOver = PlantFact & {
  readonly kind: 'CatalogueBroughtOver';
  readonly v: 1;
  readonly records: readonly { readonly what: CatalogueKind; readonly revision: number; readonly record: CatalogueKinds[CatalogueKind] }[];
};

/** A catalogue record with the revision it stands at. */
export type Revised<T> = T & { readonly revision: number };
