import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import { PLACES, type Revise } from './catalogue.decide.js';
import type { CatalogueState } from './catalogue-state.facts.js';
import type { Bom, CatalogueKind, CatalogueKinds, Item, Recipe } from './catalogue.facts.js';
import { catalogueByCode, catalogueOf } from './catalogue.query.js';
import type { InspectionPlan } from './inspection-plan.facts.js';

/** What a new revision rests on; lists are read only for kinds that look at them. */
export async function catalogueState<K extends CatalogueKind>(tx: EntityManager, { what, record }: Revise<K>): Promise<CatalogueState> {
  const composed = what === 'recipe' || what === 'bom';
  const current = (await catalogueByCode(tx, what, [record.code])).get(record.code);
  const known = composed || (what === 'item' && current !== undefined);
  return {
    current,
    placesOfCode: PLACES.includes(what) ? await placesOf(tx, record.code) : [],
    items: await catalogueByCode(tx, 'item', itemsOf(what, record)),
    defects: await catalogueByCode(tx, 'defect', what === 'inspection-plan' ? defectsNamed(record as InspectionPlan) : []),
    recipes: known ? await catalogueOf(tx, 'recipe') : [],
    boms: known ? await catalogueOf(tx, 'bom') : [],
    hasLots: what === 'item' && (await lotsExist(tx, record.code)),
    gtinOf: what === 'item' ? await gtinOf(tx, record as Item) : null,
  };
}

/** The item an inspection plan is for, where it is a plan that is revised; what the plan leaves out is taken from it. */
export const itemPlanned = async (tx: EntityManager, what: CatalogueKind, code: string): Promise<Item | undefined> =>
  what === 'inspection-plan' ? (await catalogueByCode(tx, 'item', [code])).get(code) : undefined;

/** Items a record rests on. */
function itemsOf(what: CatalogueKind, record: CatalogueKinds[CatalogueKind]): string[] {
  if (what === 'recipe' || what === 'bom') return itemsNamed(record as Recipe | Bom);
  return what === 'inspection-plan' ? [record.code] : [];
}

const defectsNamed = ({ characteristics }: InspectionPlan): string[] =>
  characteristics.flatMap((one) => (one.kind === 'attribute' ? (one.defect ?? []) : []));

const itemsNamed = (record: Recipe | Bom): string[] => [
  record.item,
  ...('steps' in record ? record.steps : record.lines).map((part) => part.item),
];

async function placesOf(tx: EntityManager, code: string): Promise<CatalogueKind[]> {
  const rows = await queryRows<{ what: CatalogueKind }>(
    tx,
    `SELECT "what" FROM "catalogue_record" WHERE "code" = ? AND "until_seq" IS NULL AND "what" IN ('vessel', 'line', 'location') ORDER BY "what"`,
    [code],
  );
  return rows.map((row) => row.what);
}

async function lotsExist(tx: EntityManager, item: string): Promise<boolean> {
  return (await queryRows(tx, 'SELECT 1 AS "one" FROM "lot" WHERE "item" = ? LIMIT 1', [item])).length > 0;
}

async function gtinOf(tx: EntityManager, item: Item): Promise<string | null> {
  if (item.gtin === undefined) return null;
  const items = await catalogueOf(tx, 'item');
  return items.find((one) => one.gtin === item.gtin && one.code !== item.code)?.code ?? null;
}
