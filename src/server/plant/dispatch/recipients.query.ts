import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import type { RecipientView } from './dispatch.dto.js';
import { narrowing, type ShipmentFilter } from './shipment-view.query.js';

/** Every business supplied, by code, with what went there; shipments recorded in error are left out. */
export async function recipients(from: EntityManager, filter: ShipmentFilter): Promise<RecipientView[]> {
  const { where, values } = narrowing(filter);
  const standing = where === '' ? ' WHERE s."reversed_seq" IS NULL' : `${where} AND s."reversed_seq" IS NULL`;
  const rows = await queryRows<{ customer: string; shipment: string; shipped_at: string; lot: string; item: string }>(
    from,
    `SELECT s."customer", s."code" AS "shipment", s."shipped_at", l."code" AS "lot", l."item"
     FROM "shipment" s JOIN "shipment_line" n ON n."shipment" = s."code" JOIN "lot" l ON l."id" = n."lot_id"
     ${standing} ORDER BY s."customer", s."shipped_at"`,
    values,
  );
  const byCustomer = new Map<string, typeof rows>();
  for (const row of rows) {
    if (filter.lot !== undefined && row.lot !== filter.lot) continue;
    if (filter.item !== undefined && row.item !== filter.item) continue;
    const list = byCustomer.get(row.customer) ?? [];
    list.push(row);
    byCustomer.set(row.customer, list);
  }
  const parties = await catalogueByCode(from, 'party', byCustomer.keys());
  return [...byCustomer]
    .map(([customer, list]): RecipientView => {
      const party = parties.get(customer);
      return {
        customer,
        name: party?.name ?? customer,
        gln: party?.gln ?? null,
        contact: party?.contact ?? null,
        shipments: new Set(list.map((row) => row.shipment)).size,
        firstShippedAt: list[0]!.shipped_at,
        lastShippedAt: list.at(-1)!.shipped_at,
        lots: [...new Set(list.map((row) => row.lot))].toSorted(),
      };
    })
    .toSorted((a, b) => (a.customer < b.customer ? -1 : 1));
}
