import { massMicro, mulDivMicro } from '../../../../shared/quantity.js';
import type { Reasons } from '../../../../shared/refusal.js';
import { countPieces, type SpanSet } from '../../../../shared/spans.js';
import type { Item } from '../catalogue/catalogue.facts.js';
import type { LotState } from '../stock/lot-state.facts.js';
import type { Conversion } from './run.facts.js';

/** Classes whose content blends when it is mixed or filled; packaging and components are counted, not shared. */
const BLENDING: readonly Item['class'][] = ['raw-material', 'mixture', 'filled'];
/** Classes of what is made in which inputs blend. */
const BLENDED: readonly Item['class'][] = ['mixture', 'filled'];

/**
 * The mass a charge contributes to a blend, in millionths of a kilogram, by the item's factors of this moment.
 * @returns 0 for what does not blend; adds a reason where the mass cannot be known
 * @see docs/rules/production.md P-8
 */
export function chargedMass(
  no: Reasons,
  asked: { readonly item: Item; readonly quantityMicro: number; readonly spans: SpanSet | null; readonly givenMicro?: number | undefined },
  into: Item,
  pointer: string,
): number {
  const { item } = asked;
  if (!BLENDING.includes(item.class) || !BLENDED.includes(into.class)) return 0;
  if (asked.givenMicro !== undefined) return asked.givenMicro;
  if (item.contentMicro !== undefined && item.unit === 'each') {
    return asked.spans === null
      ? mulDivMicro(asked.quantityMicro, item.contentMicro, 1_000_000)
      : countPieces(asked.spans) * item.contentMicro;
  }
  const mass = massMicro(asked.quantityMicro, item.unit, item.densityMicro ?? null);
  if (mass !== null) return mass;
  no.conflict('mass-unknown', `the mass of ${item.code} in ${item.unit} is not known: give it, or add a density or content to the item`, {
    pointer,
  });
  return 0;
}

/**
 * A quantity given in kilograms or litres of an item kept in the other.
 * @returns the quantity in the lot's unit, with the conversion where there was one; null with a reason where it cannot be converted
 * @see docs/rules/production.md P-8
 */
export function inLotUnit(
  no: Reasons,
  lot: LotState,
  item: Item,
  given: { readonly quantityMicro: number; readonly unit: 'kg' | 'L' | 'm' | 'each' | undefined },
  pointer: string,
): { readonly quantityMicro: number; readonly conversion: Conversion | null } | null {
  if (given.unit === undefined || given.unit === lot.unit) return { quantityMicro: given.quantityMicro, conversion: null };
  const density = item.densityMicro;
  const pair = `${given.unit}>${lot.unit}`;
  if (density === undefined || (pair !== 'kg>L' && pair !== 'L>kg')) {
    no.conflict(
      'not-convertible',
      `${given.unit} of ${item.code} cannot be turned into ${lot.unit}${pair === 'kg>L' || pair === 'L>kg' ? ': it has no density' : ''}`,
      {
        pointer,
      },
    );
    return null;
  }
  const quantityMicro =
    pair === 'kg>L' ? mulDivMicro(given.quantityMicro, 1_000_000, density) : mulDivMicro(given.quantityMicro, density, 1_000_000);
  return {
    quantityMicro,
    conversion: { givenMicro: given.quantityMicro, givenUnit: given.unit as 'kg' | 'L', densityMicro: density },
  };
}
