import type { EntityManager } from 'typeorm';
import { canonicalJson } from '../../../../shared/canonical-json.js';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows, queryRows } from '../../platform/database/rows.js';
import type { InspectionDecided, Switched, SwitchingDecided } from './inspection.facts.js';

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
  await insertRows(
    tx,
    'switching',
    ['item', 'supplier', 'class', 'plan', 'since_seq', 'severity', 'state', 'because', 'inspection'],
    fact.switched.map((one: Switched) => [
      ...[fact.item, supplier, one.class, one.plan, seq, one.after.severity, canonicalJson(one.after), canonicalJson(one.because)],
      'inspection' in fact ? fact.inspection : null,
    ]),
  );
}
