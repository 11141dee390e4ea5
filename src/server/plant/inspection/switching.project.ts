import type { EntityManager } from 'typeorm';
import { canonicalJson } from '../../../../shared/canonical-json.js';
import type { Recorded } from '../../ledger/fact.js';
import { insertRecords, queryRows } from '../../platform/database/rows.js';
import type { InspectionDecided, SwitchingDecided } from './inspection.facts.js';

/** The next state of every class that a lot or a decision switched; earlier states stay, each with the entry that ended it. */
export async function projectSwitched(tx: EntityManager, { seq, fact }: Recorded<InspectionDecided | SwitchingDecided>): Promise<void> {
  const supplier = fact.supplier ?? '';
  for (const one of fact.switched) {
    await queryRows(
      tx,
      `UPDATE "switching" SET "until_seq" = ?
       WHERE "item" = ? AND "supplier" = ? AND "class" = ? AND "plan" = ? AND "until_seq" IS NULL`,
      [seq, fact.item, supplier, one.class, one.plan],
    );
  }
  await insertRecords(
    tx,
    'switching',
    fact.switched.map((one) => ({
      item: fact.item,
      supplier,
      class: one.class,
      plan: one.plan,
      since_seq: seq,
      severity: one.after.severity,
      state: canonicalJson(one.after),
      because: canonicalJson(one.because),
      inspection: 'inspection' in fact ? fact.inspection : null,
    })),
  );
}
