import type { EntityManager } from 'typeorm';
import { storedSpans } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import type { InspectionRow } from '../inspection/inspection-state.query.js';
import { lotInspections } from '../inspection/lot-inspections.query.js';
import { lotStates } from '../stock/lot-state.query.js';
import { holdsState } from './outcome.query.js';
import type { Disposition } from './report-state.facts.js';
import type { DecisionState } from './settle.decide.js';
import type { Verifying, VerifyState } from './verify.decide.js';

/** What verifying a disposition rests on: the inspection, and the lot that the pieces are of now. */
export async function verifyState(
  tx: EntityManager,
  lineage: Lineage,
  decision: DecisionState,
  one: Disposition,
  inspection: string,
): Promise<VerifyState> {
  const lot = one.carriedOut?.fact.becomes ?? one.terms.part.lot;
  return {
    ...decision,
    inspection: await verifying(tx, inspection),
    lot: (await lotStates(tx, lineage, [{ lot, spans: null }])).get(lot)!,
    inspections: await lotInspections(tx, lot),
    outcome: await holdsState(tx, lineage, decision.report),
  };
}

async function verifying(tx: EntityManager, inspection: string): Promise<Verifying | undefined> {
  const [row] = await queryRows<Pick<InspectionRow, 'lot' | 'spans' | 'state' | 'verdict' | 'opened_seq'>>(
    tx,
    'SELECT "lot", "spans", "state", "verdict", "opened_seq" FROM "inspection" WHERE "code" = ?',
    [inspection],
  );
  return (
    row && {
      inspection,
      lot: row.lot,
      spans: storedSpans(row.spans),
      state: row.state,
      verdict: row.verdict,
      openedSeq: row.opened_seq,
    }
  );
}
