import { massMicro, MICRO, mulDivMicro } from '../../../../shared/quantity.js';
import type { Item } from '../catalogue/catalogue.facts.js';

/** Classes whose content blends, and those of what is made by blending. Packaging, components and units are counted, not shared. */
const BLENDING: readonly Item['class'][] = ['raw-material', 'mixture', 'filled'];
const BLENDED: readonly Item['class'][] = ['mixture', 'filled'];

/**
 * Mass that blends, in millionths of a kilogram: what is weighed, has a density, or is filled to a known content. 0 for what does not
 * blend, and where the mass is not known: older records do not always say, and a share is then left out rather than guessed.
 * @throws QuantityFault when the mass is too large to keep exactly
 */
export function blendingMass(
  from: Pick<Item, 'class' | 'unit' | 'densityMicro' | 'contentMicro'>,
  quantityMicro: number,
  into: Pick<Item, 'class'>,
): number {
  if (!BLENDING.includes(from.class) || !BLENDED.includes(into.class)) return 0;
  if (from.contentMicro !== undefined && from.unit === 'each') return mulDivMicro(quantityMicro, from.contentMicro, MICRO);
  return massMicro(quantityMicro, from.unit, from.densityMicro ?? null) ?? 0;
}
