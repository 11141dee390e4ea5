import type { PlantFact } from '../stock/effects.facts.js';

/** A part of a lot: a numbered piece, or a quantity of a bulk lot. */
export interface PartUsed {
  readonly lot: string;
  readonly item: string;
  readonly piece: number | null;
  readonly quantityMicro: number;
}

/** A part of a unit was replaced. The old link stays: the unit was fitted with the old part until then. */
export type PartReplaced = PlantFact & {
  readonly kind: 'PartReplaced';
  readonly v: 1;
  readonly run: string;
  /** Lot and number of the unit. */
  readonly unit: { readonly lot: string; readonly piece: number; readonly serial: string | null };
  readonly removed: PartUsed;
  readonly fitted: PartUsed;
  readonly replacedAt: string;
  readonly reason: string;
  /** Where the old part went; null: scrapped. */
  readonly location: string | null;
  readonly urgentReleases: readonly string[];
};
