import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import { lotStates } from '../stock/lot-state.query.js';
import type { Decide, ReleaseState } from './release.decide.js';
import type { ReleaseFact } from './release.facts.js';
import type { QualityDecisionView } from './release.dto.js';
import { formatSpans } from '../../../../shared/spans.js';

export async function releaseState(tx: EntityManager, lineage: Lineage, command: Decide, on: string): Promise<ReleaseState> {
  const lot = (await lotStates(tx, lineage, [{ lot: command.lot, spans: command.pieces ?? null }])).get(command.lot);
  return { lot, makers: lot ? await makersOf(tx, lot.bornSeq, lot.source) : [], on };
}

/** Who recorded the entry that brought the lot into being, who worked on its run, and whom the run names. */
async function makersOf(tx: EntityManager, bornSeq: number, source: string): Promise<string[]> {
  const born = await queryRows<{ actor: string }>(tx, 'SELECT "actor" FROM "ledger_entry" WHERE "seq" = ?', [bornSeq]);
  const worked = await queryRows<{ actor: string; body: string }>(
    tx,
    `SELECT e."actor", e."body" FROM "entry_subject" s JOIN "ledger_entry" e ON e."seq" = s."seq"
     WHERE s."kind" = 'run' AND s."code" = ? AND e."kind" IN ('RunStarted', 'RunCharged', 'RunClosed') ORDER BY e."seq"`,
    [source],
  );
  const named = worked.flatMap((row) => (JSON.parse(row.body) as { people?: readonly string[] }).people ?? []);
  return [...new Set([...born, ...worked].map((row) => row.actor)), ...named].toSorted();
}

const KINDS: Readonly<Record<string, QualityDecisionView['decision']>> = {
  LotReleased: 'released',
  LotNotAccepted: 'not accepted',
  LotReconsidered: 'back in quarantine',
};

/** Every quality decision on a lot, first to last (ST-5, ST-9). */
export async function qualityDecisions(from: EntityManager, lot: string): Promise<QualityDecisionView[]> {
  const rows = await queryRows<{ seq: number; kind: string; body: string }>(
    from,
    `SELECT e."seq", e."kind", e."body" FROM "entry_subject" s JOIN "ledger_entry" e ON e."seq" = s."seq"
     WHERE s."kind" = 'lot' AND s."code" = ? AND e."kind" IN ('LotReleased', 'LotNotAccepted', 'LotReconsidered') ORDER BY e."seq"`,
    [lot],
  );
  return rows.map((row) => {
    const fact = JSON.parse(row.body) as ReleaseFact;
    return {
      seq: row.seq,
      lot,
      decision: KINDS[row.kind]!,
      pieces: fact.spans === null ? null : formatSpans(fact.spans),
      reason: fact.reason,
      signedBy: fact.signature.by,
      signedAt: fact.signature.at,
      meaning: fact.signature.meaning,
    };
  });
}
