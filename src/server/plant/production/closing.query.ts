import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import { nextLotCodes } from '../stock/codes.query.js';
import type { ClosingState } from './closing.decide.js';
import type { StandingLink } from './correcting.decide.js';
import { type LinkRow, standingLink } from './links.query.js';
import { chargedNet, type RunState } from './run-state.facts.js';
import { earliestExpiry, knownLocations } from './run-state.query.js';
import { nextSerials, takenSerials } from './serials.query.js';

/** What closing rests on. */
export async function closingState(
  tx: EntityManager,
  run: RunState,
  asked: {
    readonly lot?: string | undefined;
    readonly location?: string | undefined;
    readonly pieces?: number | undefined;
    readonly serials?: readonly string[] | undefined;
    readonly finishedAt: string;
  },
  lotPattern: string,
  at: string,
): Promise<ClosingState> {
  const serial = run.item.tracking === 'serial';
  const generated =
    serial && !asked.serials && asked.pieces !== undefined
      ? await nextSerials(tx, run.item.code, run.item.serialPattern, asked.pieces)
      : null;
  const serials = asked.serials ?? generated ?? [];
  return {
    at,
    run,
    nextLot: (await nextLotCodes(tx, lotPattern, [run.item.class], asked.finishedAt))[0]!,
    codeTaken: asked.lot !== undefined && (await queryRows(tx, 'SELECT 1 AS "one" FROM "lot" WHERE "code" = ?', [asked.lot])).length > 0,
    locationKnown: asked.location !== undefined && (await knownLocations(tx, [asked.location])).has(asked.location),
    generated,
    serialsTaken: serial && serials.length > 0 ? await takenSerials(tx, run.item.code, serials) : [],
    earliestExpiry: await earliestExpiry(
      tx,
      chargedNet(run.charges).map(({ charge }) => charge.lot),
    ),
  };
}

/** Links that the closing or a correction of the run recorded and that still stand. */
export async function standingLinks(tx: EntityManager, run: string): Promise<StandingLink[]> {
  const rows = await queryRows<LinkRow>(
    tx,
    `SELECT k.*, f."code" AS "from", t."code" AS "to" FROM "link" k
     JOIN "lot" f ON f."id" = k."from_lot" JOIN "lot" t ON t."id" = k."to_lot" JOIN "ledger_entry" e ON e."seq" = k."seq"
     WHERE k."run" = ? AND k."void_seq" IS NULL AND e."kind" IN ('RunClosed', 'RunCorrected') ORDER BY k."seq", k."ord"`,
    [run],
  );
  return rows.map(standingLink);
}

/** Every entry that is about a run. */
export async function entriesOfRun(tx: EntityManager, run: string): Promise<number[]> {
  const rows = await queryRows<{ seq: number }>(
    tx,
    `SELECT "seq" FROM "entry_subject" WHERE "kind" = 'run' AND "code" = ? ORDER BY "seq"`,
    [run],
  );
  return rows.map((row) => row.seq);
}
