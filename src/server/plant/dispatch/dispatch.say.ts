import { counted, type Known, listed, partOf } from '../telling/words.facts.js';
import type { ShipmentDispatched, ShipmentReversed, ShipmentsBroughtOver } from './dispatch.facts.js';

export const sayDispatch = {
  ShipmentDispatched: (fact: ShipmentDispatched, known: Known): string => {
    const urgent = [...new Set(fact.lines.flatMap((line) => line.urgentReleases ?? []))];
    const passed = fact.lines.flatMap((line) => line.passedOver ?? []);
    return (
      `Shipment ${fact.shipment} left for ${fact.customer}: ${listed(fact.lines.map((line) => partOf(line, known)))}` +
      (urgent.length === 0 ? '' : `, by urgent release ${listed(urgent)}`) +
      (passed.length === 0 ? '' : `; older stock stayed behind: ${listed(passed)}`)
    );
  },
  ShipmentsBroughtOver: (fact: ShipmentsBroughtOver): string =>
    `${counted(fact.shipments.length, 'shipment')} brought over from older records`,
  ShipmentReversed: (fact: ShipmentReversed): string =>
    `Shipment ${fact.shipment} of entry ${fact.corrects} was recorded in error and is undone: ${fact.reason}`,
};
