import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import { lotStates } from '../stock/lot-state.query.js';
import type { DeliveryReversalState } from './reversal.decide.js';

/** What reversing a delivery rests on; undefined if there is none of that number. */
export async function deliveryReversalState(
  tx: EntityManager,
  lineage: Lineage,
  delivery: string,
): Promise<DeliveryReversalState | undefined> {
  const [head] = await queryRows<{ location: string; booked_seq: number; reversed_seq: number | null }>(
    tx,
    'SELECT "location", "booked_seq", "reversed_seq" FROM "delivery" WHERE "code" = ?',
    [delivery],
  );
  if (!head) return undefined;
  const lines = await queryRows<{ lot: string }>(tx, 'SELECT "lot" FROM "delivery_line" WHERE "delivery" = ? ORDER BY "line"', [delivery]);
  const states = await lotStates(
    tx,
    lineage,
    lines.map(({ lot }) => ({ lot, spans: null })),
  );
  return {
    delivery,
    location: head.location,
    bookedSeq: head.booked_seq,
    reversedSeq: head.reversed_seq,
    lots: lines.map(({ lot }) => states.get(lot)!),
  };
}
