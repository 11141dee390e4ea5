import { type Known, listed, partOf } from '../telling/words.facts.js';
import type { GoodsReturned } from './returns.facts.js';

export const sayReturns = {
  GoodsReturned: (fact: GoodsReturned, known: Known): string => {
    const lines = fact.lines.map((line) => `${partOf(line, known)} of shipment ${line.shipment}${line.becomes ? `, now lot ${line.becomes}` : ''}`);
    return `Return ${fact.returned} from ${fact.customer} booked, in quarantine at ${fact.location}: ${listed(lines)}`;
  },
};
