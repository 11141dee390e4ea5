import type { View } from '../wire/client.js';
import { bpOfPercent, percentOfBp } from './percent.js';

/** A step as it is typed. */
export interface DraftStep {
  /** Tells it from the others while they are moved about. */
  readonly id: number;
  readonly item: string;
  readonly target: string;
  /** Percent. */
  readonly tolerance: string;
  readonly minutes: string;
}

export const emptyStep = (id: number): DraftStep => ({ id, item: '', target: '', tolerance: '2', minutes: '10' });

/** The steps of a recipe as they can be typed over. */
export const draftOfSteps = (recipe: View<'RecipeView'> | null): DraftStep[] =>
  recipe?.steps.map(({ item, target, toleranceBp, mixMinutes }, id) => ({
    id,
    item,
    target,
    tolerance: percentOfBp(toleranceBp),
    minutes: `${mixMinutes}`,
  })) ?? [emptyStep(0)];

/** What is sent for a step. */
export const bodyOfStep = ({ item, target, tolerance, minutes }: DraftStep) => ({
  item: item.trim(),
  target: target.trim(),
  toleranceBp: bpOfPercent(tolerance),
  mixMinutes: Number(minutes),
});
