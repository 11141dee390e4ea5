import type { Book } from './book.js';
import { BOMS } from './boms.js';
import { DEFECTS } from './defects.js';
import { INSPECTION_PLANS } from './inspection-plans.js';
import { ITEMS } from './items.js';
import { LINES } from './lines.js';
import { LOCATIONS } from './locations.js';
import { PARTIES } from './parties.js';
import { RECIPES } from './recipes.js';
import { VESSELS } from './vessels.js';

/** Every kind of record in the catalogue. */
export const BOOKS: readonly Book[] = [LOCATIONS, PARTIES, ITEMS, RECIPES, BOMS, VESSELS, LINES, DEFECTS, INSPECTION_PLANS];
