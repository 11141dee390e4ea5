import { type Known, listed, partOf } from '../telling/words.facts.js';
import type { GoodsReturned, ReturnReversed } from './returns.facts.js';

export const sayReturns = {
  GoodsReturned: (fact: GoodsReturned, known: Known): string => {
    const lines = fact.lines.map(
      (line) => `${partOf(line, known)} of shipment ${line.shipment}${line.becomes ? `, now lot ${line.becomes}` : ''}`,
    );
    return `Return ${fact.returned} from ${fact.customer} booked, in quarantine at ${fact.location}: ${listed(lines)}`;
  },
  ReturnReversed: (fact: ReturnReversed): string =>
    `Return ${fact.returned} of entry ${fact.corrects} was booked in error and is undone: ${fact.reason}`,
};
