import type { EntityManager } from 'typeorm';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows, queryRows } from '../../platform/database/rows.js';
import type { Residue, RunClosed } from './run.facts.js';
import type { BatchTransferred, RunTransferred, VesselCleaned, VesselEmptied } from './vessel.facts.js';

export const projectVessels = {
  async VesselEmptied(tx: EntityManager, { seq, actor, fact }: Recorded<VesselEmptied>): Promise<void> {
    await insertRows(
      tx,
      'vessel_emptying',
      ['seq', 'vessel', 'emptied_at', 'by', 'location', 'reason'],
      [[seq, fact.vessel, fact.emptiedAt, actor, fact.location, fact.reason]],
    );
  },

  async VesselCleaned(tx: EntityManager, { seq, actor, fact }: Recorded<VesselCleaned>): Promise<void> {
    await insertRows(
      tx,
      'vessel_cleaning',
      ['seq', 'vessel', 'cleaned_at', 'by', 'method'],
      [[seq, fact.vessel, fact.cleanedAt, actor, fact.method]],
    );
  },

  async RunTransferred(tx: EntityManager, { seq, fact }: Recorded<RunTransferred>): Promise<void> {
    await queryRows(tx, 'UPDATE "run_vessel" SET "left_seq" = ?, "left_at" = ? WHERE "run" = ? AND "left_seq" IS NULL', [
      seq,
      fact.transferredAt,
      fact.run,
    ]);
    await queryRows(tx, 'UPDATE "run" SET "vessel" = ? WHERE "code" = ?', [fact.vessel, fact.run]);
    await stay(tx, seq, fact.run, fact.vessel, fact.residues);
  },

  async BatchTransferred(tx: EntityManager, { seq, fact }: Recorded<BatchTransferred>): Promise<void> {
    await insertRows(tx, 'vessel_batch', ['seq', 'vessel', 'lot', 'run', 'at'], [[seq, fact.vessel, fact.lot, null, fact.transferredAt]]);
  },
};

/** A run is in a vessel from this entry on, and what clung to the vessel goes into its batch. */
export async function stay(tx: EntityManager, seq: number, run: string, vessel: string, residues: readonly Residue[]): Promise<void> {
  await insertRows(tx, 'run_vessel', ['run', 'since_seq', 'vessel'], [[run, seq, vessel]]);
  for (const residue of residues) {
    const known = await queryRows(tx, 'SELECT 1 AS "one" FROM "run_residue" WHERE "run" = ? AND "vessel" = ? AND "lot" = ?', [
      run,
      residue.vessel,
      residue.lot,
    ]);
    if (known.length === 0) await insertRows(tx, 'run_residue', ['run', 'vessel', 'lot', 'seq'], [[run, residue.vessel, residue.lot, seq]]);
  }
}

/** The batch is named now: every vessel it was in held it, each at the entry by which it left. */
export async function leaveVessels(tx: EntityManager, seq: number, fact: RunClosed): Promise<void> {
  const stays = await queryRows<{ vessel: string; left_seq: number | null; left_at: string | null }>(
    tx,
    'SELECT "vessel", "left_seq", "left_at" FROM "run_vessel" WHERE "run" = ? ORDER BY "since_seq"',
    [fact.run],
  );
  const lot = fact.yields;
  if (lot === null) return;
  await insertRows(
    tx,
    'vessel_batch',
    ['seq', 'vessel', 'lot', 'run', 'at'],
    stays.map((one) => [one.left_seq ?? seq, one.vessel, lot, fact.run, one.left_at ?? fact.finishedAt]),
  );
}
