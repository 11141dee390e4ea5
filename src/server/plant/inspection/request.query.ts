import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { nextDocument } from '../stock/codes.query.js';
import { lotStates } from '../stock/lot-state.query.js';
import { lotInspections } from './lot-inspections.query.js';
import type { RequestInspection, RequestState } from './request.decide.js';

/** What asking for an inspection rests on. */
export async function requestState(tx: EntityManager, lineage: Lineage, { lot: code, pieces }: RequestInspection): Promise<RequestState> {
  const lot = (await lotStates(tx, lineage, [{ lot: code, spans: pieces ?? null }])).get(code);
  const plan = lot && (await catalogueByCode(tx, 'inspection-plan', [lot.item])).get(lot.item);
  const [line] = await queryRows<{ containers: number | null }>(tx, 'SELECT "containers" FROM "delivery_line" WHERE "lot" = ?', [code]);
  return {
    lot,
    plan,
    inspections: await lotInspections(tx, code),
    containers: line?.containers ?? null,
    inspection: await nextDocument(tx, 'inspection', 'IN'),
  };
}
