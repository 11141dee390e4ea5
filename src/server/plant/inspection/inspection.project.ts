import type { EntityManager } from 'typeorm';
import { canonicalJson } from '../../../../shared/canonical-json.js';
import { formatSpans } from '../../../../shared/spans.js';
import type { Recorded } from '../../ledger/fact.js';
import { insertRecords, queryRows } from '../../platform/database/rows.js';
import type {
  InspectionBegun,
  InspectionCalledOff,
  InspectionDecided,
  InspectionMadeUrgent,
  InspectionOpened,
  InspectionSkipped,
  ItemsInspected,
  Measured,
  ResultRecorded,
  SwitchingDecided,
  TallyTakenBack,
} from './inspection.facts.js';
import { projectSwitched } from './switching.project.js';

export const projectInspection = {
  InspectionOpened: (tx: EntityManager, { seq, at, fact }: Recorded<InspectionOpened>): Promise<void> =>
    insertRecords(tx, 'inspection', [
      {
        code: fact.inspection,
        lot: fact.lot,
        item: fact.item,
        spans: fact.spans === null ? null : formatSpans(fact.spans),
        lot_size: fact.lotSize,
        occasion: fact.occasion,
        source: fact.source,
        supplier: fact.supplier,
        plan_revision: fact.planRevision,
        resubmits: fact.resubmits,
        state: 'waiting',
        opened_at: at,
        opened_seq: seq,
        curtailed: false,
      },
    ]),

  async InspectionBegun(tx: EntityManager, { seq, fact }: Recorded<InspectionBegun>): Promise<void> {
    const sample = fact.sample === null ? null : canonicalJson(fact.sample);
    await queryRows(tx, `UPDATE "inspection" SET "state" = 'begun', "begun_seq" = ?, "lot_size" = ?, "sample" = ? WHERE "code" = ?`, [
      seq,
      fact.lotSize,
      sample,
      fact.inspection,
    ]);
  },

  async ItemsInspected(tx: EntityManager, entry: Recorded<ItemsInspected>): Promise<void> {
    const { seq, at, fact } = entry;
    const { inspection, tally } = fact;
    await insertRecords(tx, 'inspection_tally', [
      { inspection, tally, sample: fact.sample, conforming: fact.conforming, items: canonicalJson(fact.items), since_seq: seq },
    ]);
    const results = fact.items.flatMap((item, i) =>
      item.measured.map((measured) => ({ tally, number: i + 1, piece: item.piece, measured, retestOf: null, reason: null })),
    );
    if (results.length > 0) await insertResults(tx, entry, at, results);
  },

  async TallyTakenBack(tx: EntityManager, { seq, fact }: Recorded<TallyTakenBack>): Promise<void> {
    await queryRows(tx, 'UPDATE "inspection_tally" SET "until_seq" = ?, "taken_back_reason" = ? WHERE "inspection" = ? AND "tally" = ?', [
      seq,
      fact.reason,
      fact.inspection,
      fact.tally,
    ]);
    await queryRows(tx, 'UPDATE "test_result" SET "until_seq" = ? WHERE "inspection" = ? AND "tally" = ?', [
      seq,
      fact.inspection,
      fact.tally,
    ]);
  },

  async ResultRecorded(tx: EntityManager, entry: Recorded<ResultRecorded>): Promise<void> {
    const { result: number, measured, retestOf, reason, measuredAt } = entry.fact;
    await insertResults(tx, entry, measuredAt, [{ tally: 0, number, piece: null, measured, retestOf, reason }]);
  },

  async InspectionDecided(tx: EntityManager, entry: Recorded<InspectionDecided>): Promise<void> {
    const { seq, at, fact } = entry;
    await projectSwitched(tx, entry);
    await queryRows(
      tx,
      `UPDATE "inspection" SET "state" = 'decided', "verdict" = ?, "inspected" = ?, "nonconforming" = ?, "curtailed" = ?,
         "ended_seq" = ?, "ended_at" = ? WHERE "code" = ?`,
      [fact.verdict, fact.inspected, fact.nonconforming, fact.curtailed, seq, at, fact.inspection],
    );
  },

  InspectionSkipped: (tx: EntityManager, { seq, at, fact }: Recorded<InspectionSkipped>): Promise<void> =>
    end(tx, 'skipped', seq, at, fact.inspection),

  InspectionCalledOff: (tx: EntityManager, { seq, at, fact }: Recorded<InspectionCalledOff>): Promise<void> =>
    end(tx, 'called-off', seq, at, fact.inspection),

  SwitchingDecided: (tx: EntityManager, entry: Recorded<SwitchingDecided>): Promise<void> => projectSwitched(tx, entry),

  async InspectionMadeUrgent(tx: EntityManager, { fact }: Recorded<InspectionMadeUrgent>): Promise<void> {
    await queryRows(tx, 'UPDATE "inspection" SET "urgent_reason" = ? WHERE "code" = ?', [fact.reason, fact.inspection]);
  },
};

async function end(tx: EntityManager, state: 'skipped' | 'called-off', seq: number, at: string, inspection: string): Promise<void> {
  await queryRows(tx, 'UPDATE "inspection" SET "state" = ?, "ended_seq" = ?, "ended_at" = ? WHERE "code" = ?', [
    state,
    seq,
    at,
    inspection,
  ]);
}

interface Result {
  readonly tally: number;
  readonly number: number;
  readonly piece: number | null;
  readonly measured: Measured;
  readonly retestOf: number | null;
  readonly reason: string | null;
}

async function insertResults(
  tx: EntityManager,
  { seq, actor, fact }: Recorded<ItemsInspected | ResultRecorded>,
  at: string,
  results: readonly Result[],
): Promise<void> {
  const [inspected] = await queryRows<{ lot: string; item: string }>(tx, 'SELECT "lot", "item" FROM "inspection" WHERE "code" = ?', [
    fact.inspection,
  ]);
  await insertRecords(
    tx,
    'test_result',
    results.map(({ tally, number, piece, measured, retestOf, reason }) => ({
      inspection: fact.inspection,
      tally,
      number,
      characteristic: measured.characteristic,
      lot: inspected!.lot,
      item: inspected!.item,
      piece,
      instrument: measured.instrument,
      at,
      person: actor,
      value: measured.valueMicro,
      within: measured.within,
      measured: canonicalJson(measured),
      retest_of: retestOf,
      reason,
      since_seq: seq,
    })),
  );
}
