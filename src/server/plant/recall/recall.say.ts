import { counted } from '../telling/words.facts.js';
import type { FrozenScope, RecallOpened, RecallRescoped } from './recall.facts.js';

const scope = ({ chosen, parts, asKnownAt }: FrozenScope): string =>
  `the ${chosen} scope of ${counted(parts[chosen].length, 'lot')}, as known at entry ${asKnownAt.seq}`;

export const sayRecall = {
  RecallOpened: (fact: RecallOpened): string =>
    `${fact.drill ? 'Recall drill' : 'Recall'} ${fact.recall} (${fact.title}) opened with ${scope(fact.scope)}: ${fact.what}`,
  RecallRescoped: (fact: RecallRescoped): string =>
    `Recall ${fact.recall} now has ${scope(fact.scope)} (version ${fact.version}): ${fact.reason}`,
};
