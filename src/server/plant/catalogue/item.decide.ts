import { gs1CheckDigit, isValidGtin } from '../../../../shared/gs1/check-digit.js';
import { massMicro, MICRO } from '../../../../shared/quantity.js';
import type { Reasons } from '../../../../shared/refusal.js';
import type { CatalogueState } from './catalogue-state.facts.js';
import type { Item, ItemClass } from './catalogue.facts.js';

/** How lots of each class may be counted. Only what is counted by the piece can have numbers or serials. */
const FITS: Readonly<Record<ItemClass, { readonly tracking: readonly Item['tracking'][]; readonly units: readonly Item['unit'][] }>> = {
  'raw-material': { tracking: ['bulk', 'pieces', 'serial'], units: ['kg', 'L', 'm', 'each'] },
  packaging: { tracking: ['bulk', 'pieces', 'serial'], units: ['kg', 'L', 'm', 'each'] },
  component: { tracking: ['bulk', 'pieces', 'serial'], units: ['kg', 'L', 'm', 'each'] },
  mixture: { tracking: ['bulk'], units: ['kg', 'L'] },
  filled: { tracking: ['pieces'], units: ['each'] },
  assembled: { tracking: ['serial', 'pieces'], units: ['each'] },
};

/** Nothing is denser than osmium, 22.59 kg/L (CRC Handbook of Chemistry and Physics, from memory). */
const DENSEST_MICRO = 23 * MICRO;

/** Parts a serial pattern may have; exactly one running number. */
const PATTERN_PART = /\{(?:class|yy|yyyy|mm|n:\d+)\}/g;
const RUNNING_NUMBER = /\{n:([1-9])\}/g;

/**
 * Everything wrong with an item.
 * @see docs/rules/catalogue.md C-3, C-4, C-5
 */
export function itemFaults(no: Reasons, item: Item, state: CatalogueState): void {
  fitFaults(no, item);
  gtinFaults(no, item, state);
  figureFaults(no, item);
  patternFaults(no, item);
  if (state.current) changeFaults(no, item, state.current as unknown as Item, state);
}

function fitFaults(no: Reasons, item: Item): void {
  const fits = FITS[item.class];
  if (!fits.units.includes(item.unit)) {
    no.conflict('unit-does-not-fit', `${item.class} is counted in ${fits.units.join(' or ')}, not in ${item.unit}`, { pointer: '/unit' });
  }
  if (!fits.tracking.includes(item.tracking)) {
    no.conflict('tracking-does-not-fit', `lots of ${item.class} are ${fits.tracking.join(' or ')}, not ${item.tracking}`, {
      pointer: '/tracking',
    });
  }
  if (item.tracking !== 'bulk' && item.unit !== 'each' && fits.units.includes(item.unit)) {
    no.conflict('unit-does-not-fit', `what is numbered is counted in each, not in ${item.unit}`, { pointer: '/unit' });
  }
}

function gtinFaults(no: Reasons, item: Item, state: CatalogueState): void {
  if (item.gtin === undefined) return;
  if (!isValidGtin(item.gtin)) {
    const digits = /^\d{8}$|^\d{12,14}$/.test(item.gtin);
    const detail = digits
      ? `${item.gtin} is no GTIN: its check digit would be ${gs1CheckDigit(item.gtin.slice(0, -1))}`
      : `${item.gtin} is no GTIN: 8, 12, 13 or 14 digits`;
    no.malformed('gtin-wrong', detail, { pointer: '/gtin' });
  }
  if (state.gtinOf !== null) no.conflict('gtin-taken', `${item.gtin} is the GTIN of ${state.gtinOf}`, { pointer: '/gtin' });
}

function figureFaults(no: Reasons, item: Item): void {
  if (item.densityMicro !== undefined) {
    if (item.unit !== 'kg' && item.unit !== 'L') {
      no.conflict('no-density-here', `a density relates litres and kilograms; ${item.code} is counted in ${item.unit}`, {
        pointer: '/density',
      });
    } else if (item.densityMicro <= 0 || item.densityMicro > DENSEST_MICRO) {
      no.malformed('density-impossible', 'a density is more than 0 and at most 23 kg/L', { pointer: '/density' });
    }
  }
  if (item.contentMicro !== undefined) {
    if (item.class !== 'filled') {
      no.conflict('no-content-here', `only what is filled has a nominal content, not ${item.class}`, { pointer: '/content' });
    } else if (item.contentMicro <= 0) {
      no.malformed('not-positive', 'a content is more than nothing', { pointer: '/content' });
    }
  }
}

function patternFaults(no: Reasons, item: Item): void {
  if (item.serialPattern === undefined) return;
  const pointer = '/serialPattern';
  if (item.tracking !== 'serial') no.conflict('no-serials-here', `${item.code} carries no serials`, { pointer });
  const fixed = item.serialPattern.replaceAll(PATTERN_PART, '');
  if (/[{}]/.test(fixed) || [...item.serialPattern.matchAll(RUNNING_NUMBER)].length !== 1) {
    no.malformed('pattern-wrong', 'a serial pattern has one running number, as K-{n:5}, and may have {class}, {yy}, {yyyy} and {mm}', {
      pointer,
    });
  }
}

/** What lots, recipes and bills of materials rest on cannot be taken away from under them. */
function changeFaults(no: Reasons, item: Item, before: Item, state: CatalogueState): void {
  if (state.hasLots) {
    for (const field of ['class', 'unit', 'tracking'] as const) {
      if (item[field] === before[field]) continue;
      no.conflict('lots-exist', `lots of ${item.code} exist, so its ${field} stays ${before[field]}`, { pointer: `/${field}`, field });
    }
  }
  const mass = massMicro(MICRO, item.unit, item.densityMicro ?? null);
  for (const recipe of state.recipes) {
    if (recipe.item === item.code && item.class !== 'mixture') {
      no.conflict('recipe-makes-it', `recipe ${recipe.code} makes ${item.code}, so it stays a mixture`, {
        pointer: '/class',
        recipe: recipe.code,
      });
    }
    const named = recipe.item === item.code || recipe.steps.some((step) => step.item === item.code);
    if (named && mass === null) {
      no.conflict('recipe-needs-mass', `recipe ${recipe.code} needs the mass of ${item.code}: it must stay in kg, or in L with a density`, {
        pointer: '/unit',
        recipe: recipe.code,
      });
    }
  }
  for (const bom of state.boms) {
    const serial = bom.lines.some((line) => line.item === item.code && line.trackedBy === 'serial');
    if (serial && item.tracking !== 'serial') {
      no.conflict('bom-needs-serials', `bill of materials ${bom.code} fits ${item.code} by serial`, {
        pointer: '/tracking',
        bom: bom.code,
      });
    }
  }
}
