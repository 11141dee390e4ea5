import type { EntityManager } from 'typeorm';
import { formatSpans, type SpanSet } from '../../../../shared/spans.js';
import { queryRows } from '../../platform/database/rows.js';
import type { HoldLifted, HoldPlaced, UrgentReleaseClosed, UrgentReleaseOpened } from '../holds/holds.facts.js';
import { lotInspections } from '../inspection/lot-inspections.query.js';
import { openQuestionsOn } from '../instruments/open-questions.query.js';
import type { Lineage } from '../../trace/lineage.js';
import { lotStates } from '../stock/lot-state.query.js';
import { unverifiedReworks } from '../nonconformance/grants.query.js';
import { heldAt } from '../stock/lot-state.facts.js';
import type { Decide, ReleaseState, ReworkedSince } from './release.decide.js';
import type { ReleaseFact } from './release.facts.js';
import type { QualityDecisionView } from './release.dto.js';

export async function releaseState(tx: EntityManager, lineage: Lineage, command: Decide, on: string): Promise<ReleaseState> {
  const lot = (await lotStates(tx, lineage, [{ lot: command.lot, spans: command.pieces ?? null }])).get(command.lot);
  if (!lot) return { lot, makers: [], unexplained: [], inspections: [], questions: [], unverified: [], reworkedSince: [], on };
  return {
    lot,
    makers: await makersOf(tx, lot.bornSeq, lot.source),
    unexplained: await unexplained(tx, lot.source),
    inspections: await lotInspections(tx, lot.lot),
    unverified: await unverifiedReworks(tx, lot, heldAt(lot, 'on-hand').spans),
    reworkedSince: await reworkedSince(tx, lot.lot),
    questions: await openQuestionsOn(tx, lot.lot),
    on,
  };
}

/** Inspections of a lot that were opened before a part was replaced in a piece of it, with the piece. */
export async function reworkedSince(tx: EntityManager, lot: string): Promise<ReworkedSince[]> {
  const rows = await queryRows<{ code: string; unit_piece: number }>(
    tx,
    `SELECT DISTINCT i."code", p."unit_piece" FROM "part_replaced" p JOIN "inspection" i ON i."lot" = p."unit_lot" AND i."opened_seq" < p."seq"
     WHERE p."unit_lot" = ? ORDER BY i."code", p."unit_piece"`,
    [lot],
  );
  return rows.map((row) => ({ inspection: row.code, piece: row.unit_piece }));
}

/** What the closing of a run found out of its limits, without what has been explained since (21 CFR 211.192). */
async function unexplained(tx: EntityManager, run: string): Promise<string[]> {
  const rows = await queryRows<{ body: string }>(
    tx,
    `SELECT e."body" FROM "entry_subject" s JOIN "ledger_entry" e ON e."seq" = s."seq"
     WHERE s."kind" = 'run' AND s."code" = ? AND e."kind" IN ('RunClosed', 'YieldInvestigated') ORDER BY e."seq"`,
    [run],
  );
  const open = new Map<string, string>();
  for (const row of rows) {
    const fact = JSON.parse(row.body) as Closing;
    if (fact.run !== run) continue;
    if (fact.kind === 'YieldInvestigated') open.delete(fact.what);
    else for (const { what, detail } of fact.investigations) open.set(what, detail);
  }
  return [...open.values()];
}

/** The members of production's entries that a release rests on. */
type Closing =
  | {
      readonly kind: 'RunClosed';
      readonly run: string;
      readonly investigations: readonly { readonly what: string; readonly detail: string }[];
    }
  | { readonly kind: 'YieldInvestigated'; readonly run: string; readonly what: string };

/** Who recorded the entry that brought the lot into being, who worked on its run, and whom the run names. */
export async function makersOf(tx: EntityManager, bornSeq: number, source: string): Promise<string[]> {
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

type DecisionFact = ReleaseFact | HoldPlaced | HoldLifted | UrgentReleaseOpened | UrgentReleaseClosed;

const WORDS: Readonly<Record<DecisionFact['kind'], QualityDecisionView['decision']>> = {
  LotReleased: 'released',
  LotNotAccepted: 'not accepted',
  LotReconsidered: 'back in quarantine',
  HoldPlaced: 'hold placed',
  HoldLifted: 'hold lifted',
  UrgentReleaseOpened: 'urgent release opened',
  UrgentReleaseClosed: 'urgent release closed',
};

/**
 * Every quality decision on a lot, first to last: status, holds and urgent releases, each with who signed it and why (ST-5, ST-9).
 * Undefined when there is no such lot.
 */
export async function qualityDecisions(from: EntityManager, lot: string): Promise<QualityDecisionView[] | undefined> {
  const [row] = await queryRows<{ id: number }>(from, 'SELECT "id" FROM "lot" WHERE "code" = ?', [lot]);
  if (!row) return undefined;
  const kinds = Object.keys(WORDS);
  const entries = await queryRows<{ seq: number; body: string }>(
    from,
    `SELECT e."seq", e."body" FROM "ledger_entry" e WHERE e."kind" IN (${kinds.map(() => '?').join(',')}) AND (
       e."seq" IN (SELECT "seq" FROM "entry_subject" WHERE "kind" = 'lot' AND "code" = ?)
       OR e."seq" IN (SELECT "lifted_seq" FROM "hold" WHERE "lot_id" = ?)
       OR e."seq" IN (SELECT "closed_seq" FROM "urgent_release" WHERE "lot_id" = ?)) ORDER BY e."seq"`,
    [...kinds, lot, row.id, row.id],
  );
  return entries.map(({ seq, body }) => decisionView(lot, seq, JSON.parse(body) as DecisionFact));
}

function decisionView(lot: string, seq: number, fact: DecisionFact): QualityDecisionView {
  const spans = spansOn(fact, lot);
  return {
    seq,
    lot,
    decision: WORDS[fact.kind],
    document: 'hold' in fact ? fact.hold : 'urgentRelease' in fact ? fact.urgentRelease : null,
    pieces: spans === null ? null : formatSpans(spans),
    reason: fact.reason,
    signedBy: fact.signature.by,
    signedAt: fact.signature.at,
    meaning: fact.signature.meaning,
  };
}

function spansOn(fact: DecisionFact, lot: string): SpanSet | null {
  if ('parts' in fact) return fact.parts.find((part) => part.lot === lot)?.spans ?? null;
  return 'spans' in fact ? fact.spans : null;
}
