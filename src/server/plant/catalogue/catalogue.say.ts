import { because, counted } from '../telling/words.facts.js';
import type { CatalogueBroughtOver, CatalogueKind, CatalogueRevised } from './catalogue.facts.js';

const NOUNS: Readonly<Record<CatalogueKind, string>> = {
  item: 'Item',
  party: 'Party',
  vessel: 'Vessel',
  line: 'Line',
  location: 'Location',
  recipe: 'Recipe',
  bom: 'Bill of materials',
  instrument: 'Instrument',
  'inspection-plan': 'Inspection plan',
  defect: 'Defect',
};

export const sayCatalogue = {
  CatalogueRevised: ({ what, record, revision, reason }: CatalogueRevised): string =>
    revision === 1
      ? `${NOUNS[what]} ${record.code} (${record.name}) added to the catalogue${because(reason)}`
      : `${NOUNS[what]} ${record.code} (${record.name}) now stands at revision ${revision}${because(reason)}`,
  CatalogueBroughtOver: ({ records }: CatalogueBroughtOver): string =>
    `${counted(records.length, 'catalogue record')} brought over from older records`,
};
