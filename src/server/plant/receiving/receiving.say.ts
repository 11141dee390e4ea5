import { counted, listed } from '../telling/words.facts.js';
import type { DeliveryBooked, DeliveryReversed } from './receiving.facts.js';

export const sayReceiving = {
  DeliveryBooked: (fact: DeliveryBooked): string => {
    const late = fact.lines.filter((line) => line.expiredOnArrival).map((line) => line.lot);
    const expired = late.length === 0 ? '' : `; ${listed(late)} had expired on arrival`;
    return `Delivery ${fact.delivery} from ${fact.supplier} booked by ${fact.documentType} ${fact.document}: ${counted(fact.lines.length, 'lot')}, ${listed(fact.lines.map((line) => line.lot))}${expired}`;
  },
  DeliveryReversed: (fact: DeliveryReversed): string =>
    `Delivery ${fact.delivery} of entry ${fact.corrects} was booked in error and is undone: ${fact.reason}`,
};
