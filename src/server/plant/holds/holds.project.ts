import type { EntityManager } from 'typeorm';
import { formatSpans } from '../../../../shared/spans.js';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows, queryRows } from '../../platform/database/rows.js';
import { lotIds } from '../stock/lot-ids.query.js';
import type {
  HoldLifted,
  HoldLiftedByReport,
  HoldPlaced,
  HoldPlacedByRule,
  UrgentReleaseClosed,
  UrgentReleaseOpened,
} from './holds.facts.js';

export const projectHolds = {
  HoldPlaced: (tx: EntityManager, entry: Recorded<HoldPlaced>): Promise<void> => insertHold(tx, entry),

  HoldPlacedByRule: (tx: EntityManager, entry: Recorded<HoldPlacedByRule>): Promise<void> => insertHold(tx, entry),

  HoldLifted: (tx: EntityManager, entry: Recorded<HoldLifted>): Promise<void> => lift(tx, entry),

  HoldLiftedByReport: (tx: EntityManager, entry: Recorded<HoldLiftedByReport>): Promise<void> => lift(tx, entry),

  async UrgentReleaseOpened(tx: EntityManager, { seq, fact }: Recorded<UrgentReleaseOpened>): Promise<void> {
    const lotId = (await lotIds(tx, [fact.lot])).get(fact.lot)!;
    await insertRows(
      tx,
      'urgent_release',
      ['code', 'lot_id', 'spans', 'sets_aside', 'reason', 'signed_by', 'opened_seq'],
      [
        [
          fact.urgentRelease,
          lotId,
          fact.spans === null ? null : formatSpans(fact.spans),
          fact.setsAside.join(','),
          fact.reason,
          fact.signature.by,
          seq,
        ],
      ],
    );
  },

  async UrgentReleaseClosed(tx: EntityManager, { seq, fact }: Recorded<UrgentReleaseClosed>): Promise<void> {
    await queryRows(tx, 'UPDATE "urgent_release" SET "closed_seq" = ?, "close_reason" = ? WHERE "code" = ?', [
      seq,
      fact.reason,
      fact.urgentRelease,
    ]);
  },
};

async function lift(tx: EntityManager, { seq, fact }: Recorded<HoldLifted | HoldLiftedByReport>): Promise<void> {
  await queryRows(tx, 'UPDATE "hold" SET "lifted_seq" = ?, "lift_reason" = ? WHERE "code" = ?', [seq, fact.reason, fact.hold]);
}

async function insertHold(tx: EntityManager, { seq, at, fact }: Recorded<HoldPlaced | HoldPlacedByRule>): Promise<void> {
  const ids = await lotIds(
    tx,
    fact.parts.map((part) => part.lot),
  );
  await insertRows(
    tx,
    'hold',
    ['code', 'lot_id', 'spans', 'quantity', 'reaches', 'reason', 'owner', 'placed_at', 'placed_seq'],
    fact.parts.map((part) => [
      fact.hold,
      ids.get(part.lot)!,
      part.spans === null ? null : formatSpans(part.spans),
      part.quantityMicro,
      fact.reaches,
      fact.reason,
      fact.owner,
      at,
      seq,
    ]),
  );
}
