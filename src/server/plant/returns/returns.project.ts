import type { EntityManager } from 'typeorm';
import { formatSpans } from '../../../../shared/spans.js';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows, queryRows } from '../../platform/database/rows.js';
import { lotIds } from '../stock/lot-ids.query.js';
import type { GoodsReturned, ReturnReversed } from './returns.facts.js';

export const projectReturns = {
  async GoodsReturned(tx: EntityManager, { seq, fact }: Recorded<GoodsReturned>): Promise<void> {
    const ids = await lotIds(
      tx,
      fact.lines.map((line) => line.lot),
    );
    await insertRows(
      tx,
      'goods_return',
      ['code', 'customer', 'document_type', 'document', 'returned_at', 'location', 'condition', 'note', 'booked_seq'],
      [
        [
          fact.returned,
          fact.customer,
          fact.documentType,
          fact.document,
          fact.returnedAt,
          fact.location,
          fact.condition,
          fact.note ?? null,
          seq,
        ],
      ],
    );
    await insertRows(
      tx,
      'return_line',
      ['return_code', 'line', 'lot_id', 'spans', 'quantity', 'shipment', 'shipment_named', 'becomes'],
      fact.lines.map((line, i) => [
        fact.returned,
        i + 1,
        ids.get(line.lot)!,
        line.spans === null ? null : formatSpans(line.spans),
        line.quantityMicro,
        line.shipment,
        line.shipmentNamed,
        line.becomes ?? null,
      ]),
    );
  },

  async ReturnReversed(tx: EntityManager, { seq, fact }: Recorded<ReturnReversed>): Promise<void> {
    await queryRows(tx, 'UPDATE "goods_return" SET "reversed_seq" = ?, "reverse_reason" = ? WHERE "code" = ?', [
      seq,
      fact.reason,
      fact.returned,
    ]);
  },
};
