import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import type { PartThen } from '../../trace/trace.query.js';
import type { Fate } from '../stock/effects.facts.js';
import type { ReconciliationView, RunUseView } from './lots.dto.js';

interface Linked {
  kind: string | null;
  quantityMicro: number;
  made: Set<string>;
}

/**
 * In, out and on hand of a lot, and its use by run: what each run took off it, and what the genealogy says went into which lots.
 * @see docs/rules/lots.md LT-5
 */
export async function reconcile(
  from: EntityManager,
  lot: { readonly id: number; readonly quantityMicro: number },
  places: readonly PartThen[],
  seq: number,
): Promise<ReconciliationView> {
  const sum = (fate: Fate): number => places.filter((part) => part.fate === fate).reduce((total, part) => total + part.quantityMicro, 0);
  return {
    quantity: formatQuantity(lot.quantityMicro),
    onHand: formatQuantity(sum('on-hand')),
    consumed: formatQuantity(sum('consumed')),
    dispatched: formatQuantity(sum('dispatched')),
    scrapped: formatQuantity(sum('scrapped')),
    retained: formatQuantity(sum('retained')),
    destroyedInTest: formatQuantity(sum('destroyed-in-test')),
    returnedToSupplier: formatQuantity(sum('returned-to-supplier')),
    countDifference: formatQuantity(sum('count-difference')),
    gap: formatQuantity(lot.quantityMicro - places.reduce((total, part) => total + part.quantityMicro, 0)),
    usedBy: await usedBy(from, lot.id, places, seq),
  };
}

async function usedBy(from: EntityManager, lotId: number, places: readonly PartThen[], seq: number): Promise<RunUseView[]> {
  const rows = await queryRows<{ run: string; kind: string; quantity: unknown; made: string }>(
    from,
    `SELECT k."run", k."kind", k."quantity", l."code" AS "made" FROM "link" k JOIN "lot" l ON l."id" = k."to_lot"
     WHERE k."from_lot" = ? AND k."seq" <= ? AND (k."void_seq" IS NULL OR k."void_seq" > ?)`,
    [lotId, seq, seq],
  );
  const linked = new Map<string, Linked>();
  const ofRun = (run: string): Linked => {
    const found = linked.get(run) ?? { kind: null, quantityMicro: 0, made: new Set() };
    linked.set(run, found);
    return found;
  };
  for (const row of rows) {
    const run = ofRun(row.run);
    run.kind = row.kind;
    run.quantityMicro += safeInteger(row.quantity);
    run.made.add(row.made);
  }
  const consumed = new Map(places.filter((part) => part.fate === 'consumed').map((part) => [part.at, part.quantityMicro]));
  for (const run of consumed.keys()) ofRun(run);
  return [...linked]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([run, { kind, quantityMicro, made }]) => ({
      run,
      kind,
      consumed: formatQuantity(consumed.get(run) ?? 0),
      linked: formatQuantity(quantityMicro),
      gap: formatQuantity((consumed.get(run) ?? 0) - quantityMicro),
      made: [...made].toSorted(),
    }));
}
