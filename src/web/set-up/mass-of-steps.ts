import { massMicro, parseQuantity, QuantityFault } from '../../../shared/quantity.js';

interface Weighed {
  readonly code: string;
  readonly unit: string;
  readonly density: string | null;
}

function microOf(text: string): number | null {
  try {
    return parseQuantity(text.trim());
  } catch (error) {
    if (error instanceof QuantityFault) return null;
    throw error;
  }
}

/** The mass of an amount of an item in millionths of a kilogram; null where the amount or the item's mass is not known (yet). */
export function massOf(item: Weighed | undefined, amount: string): number | null {
  const micro = microOf(amount);
  if (item === undefined || micro === null) return null;
  return massMicro(micro, item.unit, item.density === null ? null : parseQuantity(item.density));
}

/** What steps add up to in millionths of a kilogram; null as long as the mass of one of them is not known. */
export function massOfSteps(
  steps: readonly { readonly item: string; readonly target: string }[],
  items: readonly Weighed[],
): number | null {
  const masses = steps.map(({ item, target }) =>
    massOf(
      items.find(({ code }) => code === item.trim()),
      target,
    ),
  );
  return masses.reduce<number | null>((sum, mass) => (sum === null || mass === null ? null : sum + mass), 0);
}
