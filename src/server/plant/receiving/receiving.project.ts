import type { EntityManager } from 'typeorm';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows, queryRows } from '../../platform/database/rows.js';
import type { DeliveryBooked, DeliveryReversed } from './receiving.facts.js';

export const projectReceiving = {
  async DeliveryBooked(tx: EntityManager, { seq, fact }: Recorded<DeliveryBooked>): Promise<void> {
    await insertRows(
      tx,
      'delivery',
      ['code', 'supplier', 'document_type', 'document', 'received_at', 'location', 'condition', 'note', 'booked_seq'],
      [
        [
          fact.delivery,
          fact.supplier,
          fact.documentType,
          fact.document,
          fact.receivedAt,
          fact.location,
          fact.condition,
          fact.note ?? null,
          seq,
        ],
      ],
    );
    await insertRows(
      tx,
      'delivery_line',
      ['delivery', 'line', 'lot', 'containers', 'earlier', 'expired_on_arrival'],
      fact.lines.map((line, i) => [fact.delivery, i + 1, line.lot, line.containers, JSON.stringify(line.earlier), line.expiredOnArrival]),
    );
  },

  /** The serials of lots that never were are free again, so that the delivery can be booked as it was. */
  async DeliveryReversed(tx: EntityManager, { seq, fact }: Recorded<DeliveryReversed>): Promise<void> {
    await queryRows(tx, 'UPDATE "delivery" SET "reversed_seq" = ?, "reverse_reason" = ? WHERE "code" = ?', [
      seq,
      fact.reason,
      fact.delivery,
    ]);
    await queryRows(
      tx,
      'DELETE FROM "serial" WHERE "lot_id" IN (SELECT l."id" FROM "lot" l JOIN "delivery_line" d ON d."lot" = l."code" WHERE d."delivery" = ?)',
      [fact.delivery],
    );
  },
};
