import type { Faults } from './faults.js';
import type { Folder } from './folder.js';
import { checkParty } from './check-names.js';
import type { PlantState } from './import.query.js';

/** The heads of shipments: their customer, their time, and that the plant has none of that number. @see docs/rules/import.md I-11 */
export function checkShipments(folder: Folder, plant: PlantState, faults: Faults): void {
  for (const { line, shipment, customer, at } of folder.shipments) {
    const fault = (column: string, value: string, code: string, detail: string): void =>
      faults.add({ file: 'shipments.csv', line, column, value }, code, detail);
    if (plant.shipmentsTaken.has(shipment)) fault('shipment', shipment, 'exists', `shipment ${shipment} is in the plant already`);
    checkParty(customer, 'customer', folder, plant, fault);
    if (at > plant.at) fault('at', at, 'not-yet', 'is still to come');
  }
}
