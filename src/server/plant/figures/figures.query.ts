import type { EntityManager } from 'typeorm';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows, type Value } from '../../platform/database/rows.js';
import type { FiguresQueryDto, SupplierItemView } from './figures.dto.js';
import { type CountedInspection, type CountedLot, type CountedSeverity, supplierItems } from './figures.js';

/** Lots that were received or made in the time asked for, their first inspections and the severities of now, as figures. */
export async function supplierItemFigures(from: EntityManager, query: FiguresQueryDto): Promise<SupplierItemView[]> {
  const { where, values } = condition(query);
  const lots = await queryRows<{ item: string; supplier: string; born_at: string; released_at: string | null }>(
    from,
    `SELECT l."item", coalesce(l."supplier", '') AS "supplier", l."born_at",
       (SELECT min(e."at") FROM "lot_status" s JOIN "ledger_entry" e ON e."seq" = s."since_seq"
        WHERE s."lot_id" = l."id" AND s."status" = 'released') AS "released_at"
     FROM "lot" l WHERE l."origin" IN ('received', 'made')${where}
       AND NOT EXISTS (SELECT 1 FROM "delivery" d WHERE d."code" = l."source" AND d."reversed_seq" IS NOT NULL)
     ORDER BY l."id"`,
    values,
  );
  const inspections = await queryRows<InspectionRow>(
    from,
    `SELECT i."item", coalesce(i."supplier", '') AS "supplier", i."state", i."verdict", i."inspected", i."nonconforming", i."curtailed"
     FROM "inspection" i JOIN "lot" l ON l."code" = i."lot"
     WHERE i."occasion" IN ('delivery', 'run') AND i."state" <> 'called-off'${where} ORDER BY i."opened_seq", i."code"`,
    values,
  );
  const severities = await queryRows<CountedSeverity>(
    from,
    `SELECT "item", "supplier", "class", "plan", "severity" FROM "switching" WHERE "until_seq" IS NULL
     ORDER BY "item", "supplier", "class", "plan"`,
  );
  return supplierItems(lots.map(countedLot), inspections.map(countedInspection), severities);
}

interface InspectionRow {
  item: string;
  supplier: string;
  state: string;
  verdict: string | null;
  inspected: unknown;
  nonconforming: unknown;
  curtailed: number | boolean;
}

function condition({ supplier, item, from, to }: FiguresQueryDto): { where: string; values: Value[] } {
  const parts: (readonly [string, Value])[] = [];
  if (supplier !== undefined) parts.push(['l."supplier" = ?', supplier]);
  if (item !== undefined) parts.push(['l."item" = ?', item]);
  if (from !== undefined) parts.push(['l."born_at" >= ?', from]);
  if (to !== undefined) parts.push(['l."born_at" < ?', to]);
  return { where: parts.map(([sql]) => ` AND ${sql}`).join(''), values: parts.map(([, value]) => value) };
}

const countedLot = (row: { item: string; supplier: string; born_at: string; released_at: string | null }): CountedLot => ({
  item: row.item,
  supplier: row.supplier,
  bornAt: row.born_at,
  releasedAt: row.released_at,
});

const countedInspection = ({ inspected, nonconforming, curtailed, ...row }: InspectionRow): CountedInspection => ({
  ...row,
  inspected: inspected === null ? 0 : safeInteger(inspected),
  nonconforming: nonconforming === null ? 0 : safeInteger(nonconforming),
  curtailed: Boolean(curtailed),
});
