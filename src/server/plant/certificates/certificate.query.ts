import type { EntityManager } from 'typeorm';
import { formatQuantity, MICRO } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { countPieces, formatSpans } from '../../../../shared/spans.js';
import type { Certificate } from '../../documents/certificate.types.js';
import { entryAt } from '../../ledger/read.js';
import { queryRows } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import { catalogueRevision } from '../catalogue/catalogue.query.js';
import { qualityDecisions } from '../release/release.query.js';
import { type LotState, meets } from '../stock/lot-state.facts.js';
import { lotStates } from '../stock/lot-state.query.js';
import { certifiedInspections } from './certified.query.js';

/**
 * What a certificate of a lot states, as it stood when the lot was released.
 * @throws Refusal when there is no such lot, none of it is released, or what is released is on hold
 * @see docs/rules/certificates.md CA-1 to CA-4
 */
export async function certificateOf(from: EntityManager, lineage: Lineage, lot: string, plantName: string): Promise<Certificate> {
  const state = (await lotStates(from, lineage, [{ lot, spans: null }])).get(lot);
  const known = releasable(lot, state);
  const spans = known.statuses.get('released') ?? null;
  const released = ((await qualityDecisions(from, lot)) ?? []).filter((one) => one.decision === 'released');
  const last = released.at(-1);
  if (!last) throw new Error(`${lot} is released by no decision`);
  const entry = (await entryAt(from, last.seq))!;
  const item = (await catalogueRevision(from, 'item', known.item, known.itemRevision))!;
  return {
    plantName,
    lot,
    item: { code: item.code, name: item.name, gtin: item.gtin ?? null, hazard: item.hazard ?? null },
    pieces: spans === null ? null : formatSpans(spans),
    quantity: spans === null ? formatQuantity(known.quantityMicro) : formatQuantity(countPieces(spans) * MICRO),
    unit: known.unit,
    origin:
      known.origin === 'received'
        ? { label: 'Received from', value: `${known.supplier ?? ''}, ${theirLot(known)}` }
        : { label: 'Made by', value: `${plantName}, in ${known.source}` },
    madeOn: known.madeOn,
    expiresOn: known.expiresOn,
    released: await signedNames(from, released),
    asKnownAt: { seq: entry.seq, at: entry.at, hash: entry.hash },
    inspections: await certifiedInspections(from, lot, entry.seq),
  };
}

/** A delivery without a lot code was given ours (21 CFR 1.1345(b)(1)). */
const theirLot = ({ lot, supplierLot }: LotState): string =>
  supplierLot === null || supplierLot === lot ? 'without a lot code of theirs' : `their lot ${supplierLot}`;

function releasable(lot: string, state: LotState | undefined): LotState {
  const no = new Reasons();
  if (!state) no.unknown('lot-unknown', `no lot ${lot}`, { lot });
  no.throwIfAny();
  const known = state!;
  const spans = known.statuses.get('released');
  if (spans === undefined) no.conflict('lot-not-released', `${lot} is not released: there is nothing to certify`, { lot });
  for (const hold of known.holds.filter((one) => meets(one.spans, spans ?? null))) {
    no.conflict('lot-held', `${lot} is on hold ${hold.hold}: ${hold.reason}`, { lot, hold: hold.hold });
  }
  for (const hold of known.inherited) {
    const detail = `${lot} was made from ${hold.lot}, which is on hold ${hold.hold}: ${hold.reason}`;
    no.conflict('made-from-held', detail, { lot, hold: hold.hold, heldLot: hold.lot });
  }
  no.throwIfAny();
  return known;
}

type Released = Pick<Certificate['released'][number], 'at' | 'meaning' | 'seq' | 'by' | 'name'>;

async function signedNames(
  from: EntityManager,
  released: readonly { readonly seq: number; readonly signedBy: string; readonly signedAt: string; readonly meaning: string }[],
): Promise<Released[]> {
  const names = await queryRows<{ person: string; display_name: string | null }>(
    from,
    'SELECT "person", "display_name" FROM "person_account"',
  );
  const nameOf = new Map(names.map((row) => [row.person, row.display_name]));
  return released.map(({ seq, signedBy, signedAt, meaning }) => ({
    by: signedBy,
    name: nameOf.get(signedBy) ?? null,
    at: signedAt,
    meaning,
    seq,
  }));
}
