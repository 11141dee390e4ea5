import type { EntityManager } from 'typeorm';
import { storedSpans } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import type { InspectionRow } from './inspection-state.query.js';
import type { LotInspection } from './standing.decide.js';

/** Every inspection of a lot, in the order they were opened. */
export async function lotInspections(tx: EntityManager, lot: string): Promise<LotInspection[]> {
  const rows = await queryRows<Pick<InspectionRow, 'code' | 'spans' | 'state' | 'verdict'>>(
    tx,
    'SELECT "code", "spans", "state", "verdict" FROM "inspection" WHERE "lot" = ? ORDER BY "opened_seq"',
    [lot],
  );
  return rows.map(({ code, spans, state, verdict }) => ({
    inspection: code,
    spans: storedSpans(spans),
    state,
    verdict,
  }));
}
