import { csvTable } from '../../platform/csv.js';
import type { ShipmentView } from './dispatch.dto.js';

const COLUMNS = [
  'shipment',
  'shipped_at',
  'customer',
  'customer_name',
  'bill_to',
  'shipped_from',
  'document_type',
  'document',
  'lot',
  'lot_code_source',
  'item',
  'description',
  'gtin',
  'pieces',
  'serials',
  'quantity',
  'unit',
  'made_on',
  'expires_on',
  'reversed',
];

/** The dispatch notes as CSV, one row a line (RFC 4180). */
export const shipmentsCsv = (shipments: readonly ShipmentView[]): string =>
  csvTable(
    COLUMNS,
    shipments.flatMap((shipment) =>
      shipment.lines.map((line) => [
        shipment.shipment,
        shipment.shippedAt,
        shipment.customer,
        shipment.customerName,
        shipment.billTo,
        shipment.location,
        shipment.documentType,
        shipment.document,
        line.lot,
        line.lotCodeSource,
        line.item,
        line.description,
        line.gtin,
        line.pieces,
        line.serials.join(' '),
        line.quantity,
        line.unit,
        line.madeOn,
        line.expiresOn,
        shipment.reversed === null ? '' : `entry ${shipment.reversed.seq}`,
      ]),
    ),
  );
