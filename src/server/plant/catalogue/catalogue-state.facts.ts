import type { Defect } from './inspection-plan.facts.js';
import type { Bom, CatalogueKind, CatalogueKinds, Item, Recipe, Revised } from './catalogue.facts.js';

/** What a revision rests on. */
export interface CatalogueState {
  /** The record of this kind and code as it stands. */
  readonly current: Revised<CatalogueKinds[CatalogueKind]> | undefined;
  /** Kinds of place that hold the same code: stock stands in vessels, on lines and at locations alike. */
  readonly placesOfCode: readonly CatalogueKind[];
  /** Every item the record names. */
  readonly items: ReadonlyMap<string, Revised<Item>>;
  /** Every defect the record names that is on the plant's list. */
  readonly defects: ReadonlyMap<string, Revised<Defect>>;
  /** Recipes and bills of materials as they stand, for records that have to do with what is made of what. */
  readonly recipes: readonly Revised<Recipe>[];
  readonly boms: readonly Revised<Bom>[];
  /** Whether lots of the item exist. */
  readonly hasLots: boolean;
  /** Another item with the same GTIN. */
  readonly gtinOf: string | null;
}
