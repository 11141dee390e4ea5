import { formatQuantity, mulDivMicro } from '../../../../shared/quantity.js';
import type { Recipe } from '../catalogue/catalogue.facts.js';
import type { Deviation } from './run.facts.js';
import { chargedNet, type ChargeState } from './run-state.facts.js';

/** A step of a recipe for the planned batch, with what has gone in. In millionths of the step's unit. */
interface StepState {
  /** Counted from 1. */
  readonly step: number;
  readonly item: string;
  readonly targetMicro: number;
  readonly lowMicro: number;
  readonly highMicro: number;
  readonly mixMinutes: number;
  readonly chargedMicro: number;
}

const WHOLE_BP = 10_000;

/** The steps of a recipe scaled to the planned batch, each with what was charged to it. */
export function stepStates(recipe: Recipe, plannedMicro: number | null, charges: readonly ChargeState[]): StepState[] {
  return recipe.steps.map((step, i) => {
    const targetMicro = mulDivMicro(step.targetMicro, plannedMicro ?? recipe.batchMicro, recipe.batchMicro);
    const allowed = mulDivMicro(targetMicro, step.toleranceBp, WHOLE_BP);
    return {
      step: i + 1,
      item: step.item,
      targetMicro,
      lowMicro: targetMicro - allowed,
      highMicro: targetMicro + allowed,
      mixMinutes: step.mixMinutes,
      chargedMicro: chargedNet(charges).reduce((sum, { charge, net }) => (charge.step === i + 1 ? sum + net.quantityMicro : sum), 0),
    };
  });
}

/** The step a charge of this item belongs to: the first that still wants some, else the last of that item; null when none is. */
export function stepFor(steps: readonly StepState[], item: string): number | null {
  const ofItem = steps.filter((step) => step.item === item);
  return (ofItem.find((step) => step.chargedMicro < step.lowMicro) ?? ofItem.at(-1))?.step ?? null;
}

const range = (step: StepState): string => `${formatQuantity(step.lowMicro)} to ${formatQuantity(step.highMicro)}`;

/**
 * What about a charge is otherwise than the recipe says: out of order, too much, before the step in front has had its quantity or its time.
 * @see docs/rules/production.md P-9 to P-12
 */
export function recipeDeviations(
  steps: readonly StepState[],
  charges: readonly ChargeState[],
  asked: { readonly step: number | null; readonly item: string; readonly quantityMicro: number; readonly chargedAt: string },
): Deviation[] {
  const own = steps.find((step) => step.step === asked.step);
  if (!own) return [{ what: 'not-in-recipe', detail: `${asked.item} is not in the recipe` }];
  const found: Deviation[] = [];
  const later = steps.filter((step) => step.step > own.step && step.chargedMicro > 0);
  if (later.length > 0) {
    found.push({
      what: 'order',
      detail: `step ${own.step} (${own.item}) comes before step ${later[0]!.step} (${later[0]!.item}), which is charged already`,
    });
  }
  for (const step of steps.filter((one) => one.step < own.step && one.chargedMicro < one.lowMicro)) found.push(shortStep(step));
  const sum = own.chargedMicro + asked.quantityMicro;
  if (sum > own.highMicro) {
    found.push({
      what: 'above-tolerance',
      detail: `step ${own.step} (${own.item}) would have ${formatQuantity(sum)}, allowed are ${range(own)}`,
    });
  }
  const early = mixingTime(steps, charges, own.step, asked.chargedAt);
  return early ? [...found, early] : found;
}

export const shortStep = (step: StepState): Deviation => ({
  what: 'step-short',
  detail: `step ${step.step} (${step.item}) has ${formatQuantity(step.chargedMicro)}, wanted are ${range(step)}`,
});

const MINUTE = 60_000;

/** Whether the step charged last has not mixed for its time yet. `step` null: at closing. */
export function mixingTime(
  steps: readonly StepState[],
  charges: readonly ChargeState[],
  step: number | null,
  at: string,
): Deviation | null {
  const before = chargedNet(charges)
    .map(({ charge }) => charge)
    .filter((charge) => charge.step !== null && charge.step !== step && charge.chargedAt <= at)
    .toSorted((a, b) => (a.chargedAt === b.chargedAt ? a.charge - b.charge : a.chargedAt < b.chargedAt ? -1 : 1))
    .at(-1);
  const mixed = steps.find((one) => one.step === before?.step);
  if (!before || !mixed) return null;
  const minutes = Math.floor((Date.parse(at) - Date.parse(before.chargedAt)) / MINUTE);
  if (minutes >= mixed.mixMinutes) return null;
  return {
    what: 'mixing-time',
    detail: `step ${mixed.step} (${mixed.item}) mixes for ${mixed.mixMinutes} minutes, ${minutes} have passed`,
  };
}
