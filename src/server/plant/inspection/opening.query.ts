import type { EntityManager } from 'typeorm';
import { type SpanSet, unionSpans } from '../../../../shared/spans.js';
import { selectIn } from '../../platform/database/rows.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import type { RecordFacts } from '../commands.js';
import { nextDocuments } from '../stock/codes.query.js';
import type { Unit } from '../stock/effects.facts.js';
import { safeInteger } from '../../platform/database/columns.js';
import { decideOpenings, type OpeningState, type ToInspect } from './opening.decide.js';

/** A lot that has just come in or come out, with the pieces of it that are there; null for a bulk lot. */
interface ArrivedPart {
  readonly lot: string;
  readonly spans: SpanSet | null;
  readonly containers?: number | null | undefined;
}

/**
 * Records, in the command that brought the lots, the inspections their plans call for. The lots must stand in the tables already.
 * @see docs/rules/inspection.md IN-1
 */
export async function openInspections(
  tx: EntityManager,
  record: RecordFacts,
  occasion: OpeningState['occasion'],
  source: string,
  arrived: readonly ArrivedPart[],
): Promise<void> {
  const parts = await partsToInspect(tx, arrived);
  const plans = await catalogueByCode(
    tx,
    'inspection-plan',
    parts.map((part) => part.item),
  );
  if (plans.size === 0) return;
  const numbers = await nextDocuments(tx, 'inspection', 'IN', parts.length);
  const facts = decideOpenings({ parts, plans, numbers, occasion, source });
  if (facts.length > 0) await record(facts);
}

interface LotRow {
  code: string;
  item: string;
  unit: Unit;
  quantity: unknown;
  supplier: string | null;
}

/** The parts as an opening looks at them; a lot that does not exist is left out. */
async function partsToInspect(tx: EntityManager, arrived: readonly ArrivedPart[]): Promise<ToInspect[]> {
  const rows = await selectIn<LotRow>(
    tx,
    'SELECT "code", "item", "unit", "quantity", "supplier" FROM "lot" WHERE "code" IN (:list)',
    arrived.map((part) => part.lot),
  );
  const lots = new Map(rows.map((row) => [row.code, row]));
  return merged(arrived).flatMap((part) => {
    const row = lots.get(part.lot);
    if (!row) return [];
    const { item, unit, supplier } = row;
    const quantityMicro = safeInteger(row.quantity);
    return [{ lot: part.lot, item, unit, spans: part.spans, quantityMicro, supplier, containers: part.containers ?? null }];
  });
}

/** Parts of one lot are inspected together. */
function merged(arrived: readonly ArrivedPart[]): ArrivedPart[] {
  const byLot = new Map<string, ArrivedPart>();
  for (const part of arrived) {
    const before = byLot.get(part.lot);
    const spans = before?.spans && part.spans ? unionSpans(before.spans, part.spans) : part.spans;
    byLot.set(part.lot, { ...part, spans });
  }
  return [...byLot.values()];
}
