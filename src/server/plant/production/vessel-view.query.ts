import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { queryRows } from '../../platform/database/rows.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import type { VesselContentView, VesselEventView } from './vessel.dto.js';
import { lastBatch, lastCleaning, openInVessel, runInVessel, vesselContent } from './vessel.query.js';

/** What is in a vessel now, what was in it last, and whether it was cleaned since; undefined for an unknown one. */
export async function vesselContentView(from: EntityManager, vessel: string): Promise<VesselContentView | undefined> {
  if (!(await catalogueByCode(from, 'vessel', [vessel])).has(vessel)) return undefined;
  const content = await vesselContent(from, vessel);
  const items = await catalogueByCode(
    from,
    'item',
    content.map((part) => part.item),
  );
  const openRun = await runInVessel(from, vessel);
  const last = await lastBatch(from, vessel);
  return {
    vessel,
    content: content.map((part) => ({
      lot: part.lot,
      item: part.item,
      name: items.get(part.item)?.name ?? part.item,
      quantity: formatQuantity(part.quantityMicro),
      unit: items.get(part.item)?.unit ?? '',
    })),
    openRun,
    leftBy: (await openInVessel(from, vessel)).find((run) => run !== openRun) ?? null,
    lastBatch: last?.lot ?? null,
    lastBatchAt: last?.at ?? null,
    cleanedAt: (await lastCleaning(from, vessel)).cleanedAt,
    history: await historyOf(from, vessel),
  };
}

async function historyOf(from: EntityManager, vessel: string): Promise<VesselEventView[]> {
  return queryRows<VesselEventView>(
    from,
    `SELECT 'batch' AS "what", "at", "seq", "lot", "run", NULL AS "detail" FROM "vessel_batch" WHERE "vessel" = ?
     UNION ALL SELECT 'emptied', "emptied_at", "seq", NULL, NULL, "reason" FROM "vessel_emptying" WHERE "vessel" = ?
     UNION ALL SELECT 'cleaned', "cleaned_at", "seq", NULL, NULL, "method" FROM "vessel_cleaning" WHERE "vessel" = ?
     ORDER BY "seq" DESC LIMIT 50`,
    [vessel, vessel, vessel],
  );
}
