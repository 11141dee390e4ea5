import { massMicro, MICRO } from '../../../../shared/quantity.js';
import type { Reasons } from '../../../../shared/refusal.js';
import type { CatalogueState } from './catalogue-state.facts.js';
import type { Bom, BomLine, Item, Recipe, RecipeStep } from './catalogue.facts.js';

/** Classes whose pieces a bill of materials describes; what a mixture is made of is a recipe. */
const BUILT: readonly Item['class'][] = ['filled', 'assembled', 'component'];

/**
 * Everything wrong with a recipe.
 * @see docs/rules/catalogue.md C-6, C-8
 */
export function recipeFaults(no: Reasons, recipe: Recipe, state: CatalogueState): void {
  const made = itemOf(no, recipe.item, '/item', state);
  if (made && made.class !== 'mixture') {
    no.conflict('not-a-mixture', `a recipe makes a mixture; ${made.code} is ${made.class}`, { pointer: '/item' });
  } else if (made) {
    needsMass(no, made, '/item');
  }
  if (recipe.batchMicro <= 0) no.malformed('not-positive', 'a batch is more than nothing', { pointer: '/batch' });
  if (recipe.yieldBp[0] > recipe.yieldBp[1]) {
    no.malformed('yield-reversed', 'the smallest yield is larger than the largest', { pointer: '/yieldLowBp' });
  }
  recipe.steps.forEach((step, i) => stepFaults(no, step, `/steps/${i}`, state));
  const others = { ...state, recipes: state.recipes.filter((one) => one.code !== recipe.code) };
  loopFaults(no, recipe.item, recipe.steps, '/steps', others);
}

function stepFaults(no: Reasons, step: RecipeStep, pointer: string, state: CatalogueState): void {
  const item = itemOf(no, step.item, `${pointer}/item`, state);
  if (item) needsMass(no, item, `${pointer}/item`);
  if (step.targetMicro <= 0) no.malformed('not-positive', 'a target is more than nothing', { pointer: `${pointer}/target` });
}

/** A mixture is reckoned by mass, so everything that goes in must have one. */
function needsMass(no: Reasons, item: Item, pointer: string): void {
  if (massMicro(MICRO, item.unit, item.densityMicro ?? null) !== null) return;
  const missing = item.unit === 'L' ? 'it has no density' : `it is counted in ${item.unit}`;
  no.conflict('no-mass', `the mass of ${item.code} is not known: ${missing}`, { pointer });
}

/**
 * Everything wrong with a bill of materials.
 * @see docs/rules/catalogue.md C-7, C-8
 */
export function bomFaults(no: Reasons, bom: Bom, state: CatalogueState): void {
  const made = itemOf(no, bom.item, '/item', state);
  if (made && !BUILT.includes(made.class)) {
    const detail = `a bill of materials is of what is ${BUILT.join(', ')}; ${made.code} is ${made.class}`;
    no.conflict('not-built', detail, { pointer: '/item' });
  }
  const seen = new Set<string>();
  bom.lines.forEach((line, i) => {
    lineFaults(no, line, `/lines/${i}`, state);
    if (seen.has(line.item)) no.conflict('item-twice', `${line.item} is on two lines: add them up`, { pointer: `/lines/${i}/item` });
    seen.add(line.item);
  });
  const others = { ...state, boms: state.boms.filter((one) => one.code !== bom.code) };
  loopFaults(no, bom.item, bom.lines, '/lines', others);
}

function lineFaults(no: Reasons, line: BomLine, pointer: string, state: CatalogueState): void {
  const item = itemOf(no, line.item, `${pointer}/item`, state);
  if (line.perPieceMicro <= 0) {
    no.malformed('not-positive', 'a quantity per piece is more than nothing', { pointer: `${pointer}/perPiece` });
  }
  if (!item) return;
  if (item.unit === 'each' && line.perPieceMicro % MICRO !== 0) {
    no.malformed('not-whole', `${item.code} is counted: give a whole number`, { pointer: `${pointer}/perPiece` });
  }
  if (line.trackedBy === 'serial' && item.tracking !== 'serial') {
    no.conflict('not-serial', `${item.code} carries no serials, so it cannot be tracked by them`, { pointer: `${pointer}/trackedBy` });
  }
}

function itemOf(no: Reasons, code: string, pointer: string, state: CatalogueState): Item | undefined {
  const item = state.items.get(code);
  if (!item) no.unknown('item-unknown', `no item ${code}`, { pointer });
  return item;
}

/**
 * No item may be made of itself, however many steps away.
 * @param others without the earlier revision of the record under decision
 */
function loopFaults(no: Reasons, made: string, parts: readonly { readonly item: string }[], pointer: string, others: CatalogueState): void {
  const madeOf = madeOfWhat(others);
  parts.forEach((part, i) => {
    const way = wayTo(made, part.item, madeOf);
    if (!way) return;
    no.conflict('made-of-itself', `${made} would be made of itself: ${[made, ...way].join(' of ')}`, { pointer: `${pointer}/${i}/item` });
  });
}

function madeOfWhat({ recipes, boms }: CatalogueState): ReadonlyMap<string, readonly string[]> {
  const madeOf = new Map<string, string[]>();
  const add = (made: string, parts: readonly { readonly item: string }[]): void => {
    madeOf.set(made, [...(madeOf.get(made) ?? []), ...parts.map((part) => part.item)]);
  };
  for (const recipe of recipes) add(recipe.item, recipe.steps);
  for (const bom of boms) add(bom.item, bom.lines);
  return madeOf;
}

/** The items from `from` down to `made`, or null when `from` does not hold it. */
function wayTo(made: string, from: string, madeOf: ReadonlyMap<string, readonly string[]>): readonly string[] | null {
  const ways: (readonly string[])[] = [[from]];
  const seen = new Set<string>();
  for (let way = ways.pop(); way; way = ways.pop()) {
    const last = way.at(-1)!;
    if (last === made) return way;
    if (seen.has(last)) continue;
    seen.add(last);
    for (const part of madeOf.get(last) ?? []) ways.push([...way, part]);
  }
  return null;
}
