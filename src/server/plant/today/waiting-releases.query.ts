import { MICRO } from '../../../../shared/quantity.js';
import { countPieces, formatSpans, intersectSpans, type SpanSet, subtractSpans, unionSpans } from '../../../../shared/spans.js';
import { storedSpans } from '../../platform/database/columns.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import { placesAt } from '../../trace/trace.query.js';
import { type LotInspection, standingOver } from '../inspection/standing.decide.js';
import { openQuestionsOn } from '../instruments/open-questions.query.js';
import { type LotRow, stampedLots } from '../lots/lot-row.query.js';
import { unverifiedReworks } from '../nonconformance/grants.query.js';
import { reworkedAfter } from '../release/release.decide.js';
import { reworkedSince } from '../release/release.query.js';
import { meets } from '../stock/lot-state.facts.js';
import type { Ground } from './ground.js';
import { amountOf, grouped, waited, type Waiting } from './waiting.js';
import { returnedOf } from './waiting-quality.query.js';

interface CandidateRow extends LotRow {
  quarantined: string | null;
  quarantined_at: string;
  born_by: string;
}

/** A lot with what of it could be released: what is in quarantine, without what came back. */
interface Candidate {
  readonly row: CandidateRow;
  /** Null: all of a bulk lot. */
  readonly spans: SpanSet | null;
}

/** Lots with something in quarantine that wait for no inspection: few, whatever the plant holds. */
const CANDIDATES = `SELECT l.*, s."spans" AS "quarantined", e."at" AS "quarantined_at", b."actor" AS "born_by"
  FROM "lot_status" s JOIN "lot" l ON l."id" = s."lot_id" JOIN "ledger_entry" e ON e."seq" = s."since_seq"
  JOIN "ledger_entry" b ON b."seq" = l."born_seq"
  WHERE s."status" = 'quarantine' AND s."until_seq" IS NULL
    AND NOT EXISTS (SELECT 1 FROM "inspection" i WHERE i."lot" = l."code" AND i."state" IN ('waiting', 'begun'))
    AND NOT EXISTS (SELECT 1 FROM "run_investigation" v WHERE v."run" = l."source" AND v."explained_seq" IS NULL)
    AND EXISTS (SELECT 1 FROM "whereabout" w WHERE w."lot_id" = l."id" AND w."fate" = 'on-hand' AND w."until_seq" IS NULL)`;

/**
 * Lots in quarantine against which nothing stands that the record can tell of a list: inspected and accepted, not held, not made from
 * what is, not expired, nothing of their run to explain, no rework unverified; what was reworked since it was inspected says so. What
 * came back from a customer waits among the returns. The decision itself looks at everything again.
 * @see docs/rules/today.md TD-4, docs/rules/release.md QD-1 to QD-12
 */
export async function releasesWaiting(ground: Ground): Promise<Waiting[]> {
  const { from, known } = ground;
  const accepted = await acceptedOf(ground);
  const stamped = await stampedLots(
    known,
    accepted.map(({ row }) => row),
  );
  const free = accepted.filter(
    ({ row, spans }) => !stamped.get(row.id)!.holds.some((hold) => hold.quantityMicro === null && meets(hold.spans, spans)),
  );
  const sure = await verified(from, await unquestioned(from, free));
  const here = await placesAt(
    from,
    sure.map(({ row }) => row.id),
    known.seq,
    'on-hand',
  );
  const replaced = await selectIn<{ lot: string }>(
    from,
    'SELECT DISTINCT "unit_lot" AS "lot" FROM "part_replaced" WHERE "unit_lot" IN (:list)',
    sure.map(({ row }) => row.code),
  );
  const waiting: Waiting[] = [];
  for (const one of sure) {
    const parts = here.filter((part) => part.lotId === one.row.id);
    const micro = parts.reduce(
      (sum, part) => sum + (one.spans === null ? part.quantityMicro : countPieces(intersectSpans(one.spans, part.spans ?? [])) * MICRO),
      0,
    );
    if (micro === 0) continue;
    const again = replaced.some(({ lot }) => lot === one.row.code) ? await toInspectAgain(from, one) : [];
    waiting.push(lineOf(one, micro, again, ground));
  }
  return waiting;
}

/** Candidates that are not expired and that every inspection that speaks for them has accepted. */
async function acceptedOf({ from, today }: Ground): Promise<(Candidate & { readonly inspections: readonly LotInspection[] })[]> {
  const rows = (await queryRows<CandidateRow>(from, CANDIDATES)).filter((row) => row.expires_on === null || row.expires_on >= today);
  const returned = rows.length === 0 ? new Map<number, SpanSet | null>() : await returnedOf(from);
  const inspections = await inspectionsOf(
    from,
    rows.map((row) => row.code),
  );
  return rows.flatMap((row) => {
    const back = returned.get(row.id);
    const quarantined = storedSpans(row.quarantined);
    if (back === null) return [];
    const spans = quarantined === null || back === undefined ? quarantined : subtractSpans(quarantined, back);
    const of = inspections.get(row.code) ?? [];
    return spans?.length === 0 || !isAccepted(of, spans) ? [] : [{ row, spans, inspections: of }];
  });
}

function lineOf({ row, spans }: Candidate, micro: number, again: SpanSet, { actor, now, nameOf }: Ground): Waiting {
  const source = row.supplier === null ? `from ${row.source}` : `from ${row.supplier}`;
  const own = row.born_by === actor.person ? '; you recorded it, so somebody else releases it' : '';
  const first =
    again.length === 0 ? '' : `; pieces ${formatSpans(again)} were reworked after their inspection and are inspected again first`;
  const all = again.length > 0 && spans !== null && subtractSpans(spans, again).length === 0;
  return {
    kind: 'lot',
    code: row.code,
    lot: row.code,
    item: row.item,
    since: row.quarantined_at,
    by: ['quality'],
    says: `${amountOf(micro, row.unit)} ${nameOf(row.item)} ${source}, in quarantine ${waited(row.quarantined_at, now)}${first}${own}`,
    step: { label: all ? 'Ask for an inspection' : 'Decide on the release', place: all ? 'inspection-of' : 'lot', code: row.code },
  };
}

async function inspectionsOf(from: Ground['from'], lots: readonly string[]): Promise<Map<string, LotInspection[]>> {
  const rows = await selectIn<
    { code: string; lot: string; spans: string | null; opened_seq: number } & Pick<LotInspection, 'state' | 'verdict'>
  >(from, 'SELECT "code", "lot", "spans", "state", "verdict", "opened_seq" FROM "inspection" WHERE "lot" IN (:list)', lots);
  const sorted = rows.toSorted((a, b) => a.opened_seq - b.opened_seq);
  return new Map(
    [...grouped(sorted, (row) => row.lot)].map(([lot, of]) => [
      lot,
      of.map(({ code, spans, state, verdict }) => ({
        inspection: code,
        spans: storedSpans(spans),
        state,
        verdict,
      })),
    ]),
  );
}

const isAccepted = (inspections: readonly LotInspection[], spans: SpanSet | null): boolean =>
  standingOver(inspections, spans).every(({ state, verdict }) => state === 'decided' && verdict === 'accepted');

/** Those that no instrument in question has judged; only lots that such an instrument ever judged are looked at one by one. */
async function unquestioned<One extends Candidate>(from: Ground['from'], all: readonly One[]): Promise<One[]> {
  const judged = await selectIn<{ lot: string }>(
    from,
    `SELECT DISTINCT t."lot" FROM "test_result" t JOIN "instrument_question" q ON q."instrument" = t."instrument"
     WHERE q."dropped_seq" IS NULL AND q."answered_seq" IS NULL AND t."lot" IN (:list)`,
    all.map(({ row }) => row.code),
  );
  const doubtful = new Set<string>();
  for (const { lot } of judged) if ((await openQuestionsOn(from, lot)).length > 0) doubtful.add(lot);
  return all.filter(({ row }) => !doubtful.has(row.code));
}

/**
 * Without those of which a rework or repair, of themselves or of what they were made from, is not verified: they wait among the
 * reports (QD-12). Only lots that reports rework, and what was made from such, are looked at one by one.
 */
async function verified<One extends Candidate>(from: Ground['from'], all: readonly One[]): Promise<One[]> {
  const reworked = await queryRows<{ lot: string; run: string | null }>(
    from,
    `SELECT DISTINCT d."lot", c."run" FROM "disposition" d LEFT JOIN "run_charge" c ON c."lot" = d."lot"
     WHERE d."kind" IN ('rework', 'repair') AND d."state" NOT IN ('withdrawn', 'verified')`,
  );
  const [lots, runs] = [new Set(reworked.map(({ lot }) => lot)), new Set(reworked.map(({ run }) => run))];
  const left: One[] = [];
  for (const one of all) {
    const { code, source } = one.row;
    const concerned = lots.has(code) || runs.has(source);
    const reworks = concerned ? await unverifiedReworks(from, { lot: code, source }, one.spans) : [];
    if (!reworks.some((of) => meets(of.spans, one.spans))) left.push(one);
  }
  return left;
}

/** Pieces of it in which a part was replaced after the inspection that accepted them was opened (QD-12). */
async function toInspectAgain(
  from: Ground['from'],
  { row, spans, inspections }: Candidate & { readonly inspections: readonly LotInspection[] },
): Promise<SpanSet> {
  if (spans === null) return [];
  const since = await reworkedSince(from, row.code);
  return standingOver(inspections, spans).reduce<SpanSet>((all, one) => unionSpans(all, reworkedAfter(one, since)), []);
}
