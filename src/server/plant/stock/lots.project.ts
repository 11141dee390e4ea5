import type { EntityManager } from 'typeorm';
import { insertRows, queryRows, type Value } from '../../platform/database/rows.js';
import type { LinkGroup, LinkVoided, LotBorn } from './effects.facts.js';
import { lotIds } from './lot-ids.query.js';

export async function projectBorn(tx: EntityManager, seq: number, born: readonly LotBorn[]): Promise<void> {
  const [{ last }] = (await queryRows<{ last: number }>(tx, 'SELECT coalesce(max("id"), 0) AS "last" FROM "lot"')) as [{ last: number }];
  const columns = ['id', 'code', 'item', 'item_revision', 'unit', 'pieces', 'quantity', 'origin', 'born_at', 'born_seq', 'made_on'];
  const more = ['expires_on', 'supplier', 'supplier_lot', 'supplier_lot_assigned', 'source'];
  const rows = born.map((lot, i): Value[] => [
    last + 1 + i,
    lot.lot,
    lot.item,
    lot.itemRevision,
    lot.unit,
    lot.pieces,
    lot.quantityMicro,
    lot.origin,
    lot.bornAt,
    seq,
    lot.madeOn ?? null,
    lot.expiresOn ?? null,
    lot.supplier ?? null,
    lot.supplierLot ?? null,
    lot.supplierLotAssigned ?? false,
    lot.source,
  ]);
  await insertRows(tx, 'lot', [...columns, ...more], rows);
  const serials = born.flatMap((lot, i) => (lot.serials ?? []).map((serial, k): Value[] => [lot.item, serial, last + 1 + i, k + 1]));
  await insertRows(tx, 'serial', ['item', 'serial', 'lot_id', 'piece'], serials);
}

export async function projectLinks(tx: EntityManager, seq: number, groups: readonly LinkGroup[]): Promise<void> {
  const ids = await lotIds(
    tx,
    groups.flatMap((group) => group.links.flatMap((link) => [link.from, link.to])),
  );
  const columns = ['seq', 'ord', 'from_lot', 'from_first', 'from_last', 'to_lot', 'to_first', 'to_last'];
  const more = ['quantity', 'mass', 'each', 'run', 'kind', 'at'];
  let ord = 0;
  const rows = groups.flatMap((group) =>
    group.links.map((link): Value[] => [
      seq,
      ++ord,
      ids.get(link.from)!,
      link.fromSpan?.[0] ?? 0,
      link.fromSpan?.[1] ?? 0,
      ids.get(link.to)!,
      link.toSpan?.[0] ?? 0,
      link.toSpan?.[1] ?? 0,
      link.quantityMicro,
      link.massMicro,
      link.map === 'each',
      group.run,
      group.kind,
      group.at,
    ]),
  );
  await insertRows(tx, 'link', [...columns, ...more], rows);
}

export async function projectVoids(tx: EntityManager, seq: number, voided: readonly LinkVoided[]): Promise<void> {
  for (const link of voided) {
    await queryRows(tx, 'UPDATE "link" SET "void_seq" = ? WHERE "seq" = ? AND "ord" = ?', [seq, link.seq, link.ord]);
  }
}
