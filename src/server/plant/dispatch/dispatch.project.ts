import type { EntityManager } from 'typeorm';
import { formatSpans } from '../../../../shared/spans.js';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows, queryRows } from '../../platform/database/rows.js';
import { lotIds } from '../stock/lot-ids.query.js';
import type { Shipment, ShipmentDispatched, ShipmentReversed, ShipmentsBroughtOver } from './dispatch.facts.js';

export const projectDispatch = {
  async ShipmentDispatched(tx: EntityManager, { seq, fact }: Recorded<ShipmentDispatched>): Promise<void> {
    await insertShipments(tx, seq, [fact]);
  },

  async ShipmentsBroughtOver(tx: EntityManager, { seq, fact }: Recorded<ShipmentsBroughtOver>): Promise<void> {
    await insertShipments(tx, seq, fact.shipments);
  },

  async ShipmentReversed(tx: EntityManager, { seq, fact }: Recorded<ShipmentReversed>): Promise<void> {
    await queryRows(tx, 'UPDATE "shipment" SET "reversed_seq" = ?, "reverse_reason" = ? WHERE "code" = ?', [
      seq,
      fact.reason,
      fact.shipment,
    ]);
  },
};

const HEAD = [
  'code',
  'customer',
  'customer_revision',
  'bill_to',
  'document_type',
  'document',
  'shipped_at',
  'location',
  'note',
  'dispatched_seq',
];
const LINE = ['shipment', 'line', 'lot_id', 'spans', 'quantity', 'urgent_releases', 'passed_over', 'pick_reason'];

async function insertShipments(tx: EntityManager, seq: number, shipments: readonly Shipment[]): Promise<void> {
  const ids = await lotIds(
    tx,
    shipments.flatMap((shipment) => shipment.lines.map((line) => line.lot)),
  );
  await insertRows(
    tx,
    'shipment',
    HEAD,
    shipments.map((shipment) => [
      shipment.shipment,
      shipment.customer,
      shipment.customerRevision,
      shipment.billTo ?? null,
      shipment.documentType ?? null,
      shipment.document ?? null,
      shipment.shippedAt,
      shipment.location ?? null,
      shipment.note ?? null,
      seq,
    ]),
  );
  await insertRows(
    tx,
    'shipment_line',
    LINE,
    shipments.flatMap((shipment) =>
      shipment.lines.map((line, i) => [
        shipment.shipment,
        i + 1,
        ids.get(line.lot)!,
        line.spans === null ? null : formatSpans(line.spans),
        line.quantityMicro,
        JSON.stringify(line.urgentReleases ?? []),
        JSON.stringify(line.passedOver ?? []),
        line.pickReason ?? null,
      ]),
    ),
  );
}
