import type { View } from '../wire/client.js';
import type { Words } from './book.js';
import type { Told } from './changes.js';
import { classWord, trackingWord } from './item-words.js';

export const ITEM_WORDS: Words = {
  place: 'items',
  many: 'Items',
  one: 'item',
  purpose: 'What is bought, made and sold. Every lot is of one item.',
  kept: 'lots keep their item, and a run the revisions it was made by',
};

/** What an item's record says. */
export const itemTold = (item: View<'ItemView'>): Told[] => [
  { label: 'What it is', text: classWord(item.class) },
  { label: 'Counted in', text: item.unit },
  { label: 'A lot is', text: trackingWord(item.tracking) },
  { label: 'GTIN', text: item.gtin ?? '' },
  { label: 'Density', text: item.density === null ? '' : `${item.density} kg per L` },
  { label: 'Content of one', text: item.content === null ? '' : `${item.content} kg` },
  { label: 'Shelf life', text: item.shelfLifeDays === null ? '' : `${item.shelfLifeDays} days` },
  { label: 'Serials', text: item.serialPattern ?? '' },
  { label: 'Hazard', text: item.hazard ?? '' },
  { label: 'Storage', text: item.storage ?? '' },
];
