import type { EntityManager } from 'typeorm';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows } from '../../platform/database/rows.js';
import type { PartReplaced } from './replacing.facts.js';

export const projectReplacing = {
  async PartReplaced(tx: EntityManager, { seq, actor, fact }: Recorded<PartReplaced>): Promise<void> {
    const { unit, removed, fitted } = fact;
    await insertRows(
      tx,
      'part_replaced',
      [
        'seq',
        'run',
        'unit_lot',
        'unit_piece',
        'item',
        'old_lot',
        'old_piece',
        'old_quantity',
        'new_lot',
        'new_piece',
        'new_quantity',
        'at',
        'by',
        'reason',
        'location',
      ],
      [
        [
          seq,
          fact.run,
          unit.lot,
          unit.piece,
          removed.item,
          removed.lot,
          removed.piece,
          removed.quantityMicro,
          fitted.lot,
          fitted.piece,
          fitted.quantityMicro,
          fact.replacedAt,
          actor,
          fact.reason,
          fact.location,
        ],
      ],
    );
  },
};
