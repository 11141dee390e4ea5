import { counted, listed } from '../telling/words.facts.js';
import type { ImportFinished, LinksBroughtOver, LotsBroughtOver } from './import.facts.js';

export const sayImport = {
  LotsBroughtOver: (fact: LotsBroughtOver): string => `Import ${fact.import}: ${counted(fact.born.length, 'lot')} brought over`,
  LinksBroughtOver: (fact: LinksBroughtOver): string => {
    const links = fact.linked.reduce((sum, group) => sum + group.links.length, 0);
    return `Import ${fact.import}: ${counted(links, 'link')} of ${counted(fact.linked.length, 'run')} brought over`;
  },
  ImportFinished: (fact: ImportFinished): string => `Import ${fact.import} finished: ${listed(fact.files.map((file) => file.file))}`,
};
