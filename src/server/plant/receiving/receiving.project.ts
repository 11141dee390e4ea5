import type { EntityManager } from 'typeorm';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows } from '../../platform/database/rows.js';
import type { DeliveryBooked } from './receiving.facts.js';

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
};
