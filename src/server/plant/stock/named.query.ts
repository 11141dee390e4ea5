import type { EntityManager } from 'typeorm';
import { Reasons } from '../../../../shared/refusal.js';
import { selectIn } from '../../platform/database/rows.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';

/** What a question is narrowed to. */
export interface Named {
  readonly lot?: string | undefined;
  readonly item?: string | undefined;
  readonly customer?: string | undefined;
}

/**
 * Tells a mistyped code from a true nothing: "nobody has any of it" must never be the answer to a lot that does not exist.
 * @throws Refusal naming everything the record does not know
 */
export async function checkNamed(from: EntityManager, { lot, item, customer }: Named): Promise<void> {
  const no = new Reasons();
  if (lot !== undefined && (await selectIn(from, 'SELECT 1 AS "one" FROM "lot" WHERE "code" IN (:list)', [lot])).length === 0) {
    no.unknown('lot-unknown', `no lot ${lot}`, { pointer: '/lot' });
  }
  if (item !== undefined && !(await catalogueByCode(from, 'item', [item])).has(item)) {
    no.unknown('item-unknown', `no item ${item}`, { pointer: '/item' });
  }
  if (customer !== undefined && !(await catalogueByCode(from, 'party', [customer])).has(customer)) {
    no.unknown('customer-unknown', `no party ${customer}`, { pointer: '/customer' });
  }
  no.throwIfAny();
}
