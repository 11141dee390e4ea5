import { MICRO } from '../../../../shared/quantity.js';
import { countPieces, intersectSpans, parseSpans, type SpanSet } from '../../../../shared/spans.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import { placesAt } from '../../trace/trace.query.js';
import { type LotInspection, standingOver } from '../inspection/standing.decide.js';
import { openQuestionsOn } from '../instruments/open-questions.query.js';
import { type LotRow, stampedLots } from '../lots/lot-row.query.js';
import { meets } from '../stock/lot-state.facts.js';
import type { Ground } from './ground.js';
import { amountOf, grouped, waited, type Waiting } from './waiting.js';

interface Candidate extends LotRow {
  quarantined: string | null;
  quarantined_at: string;
  born_by: string;
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
 * what is, not expired, nothing of their run to explain. The decision itself looks at everything again.
 * @see docs/rules/release.md QD-1 to QD-12
 */
export async function releasesWaiting({ from, known, actor, now, today, nameOf }: Ground): Promise<Waiting[]> {
  const rows = (await queryRows<Candidate>(from, CANDIDATES)).filter((row) => row.expires_on === null || row.expires_on >= today);
  const inspections = await inspectionsOf(
    from,
    rows.map((row) => row.code),
  );
  const accepted = rows.filter((row) => isAccepted(inspections.get(row.code) ?? [], row.quarantined));
  const stamped = await stampedLots(known, accepted);
  const free = accepted.filter((row) => {
    const spans = spansOf(row.quarantined);
    return !stamped.get(row.id)!.holds.some((hold) => hold.quantityMicro === null && meets(hold.spans, spans));
  });
  const sure = await unquestioned({ from }, free);
  const here = await placesAt(
    from,
    sure.map((row) => row.id),
    known.seq,
    'on-hand',
  );
  return sure.flatMap((row): Waiting[] => {
    const spans = spansOf(row.quarantined);
    const parts = here.filter((part) => part.lotId === row.id);
    const micro = parts.reduce(
      (sum, part) => sum + (spans === null ? part.quantityMicro : countPieces(intersectSpans(spans, part.spans ?? [])) * MICRO),
      0,
    );
    if (micro === 0) return [];
    const source = row.supplier === null ? `from ${row.source}` : `from ${row.supplier}`;
    const own = row.born_by === actor.person ? '; you recorded it, so somebody else releases it' : '';
    return [
      {
        kind: 'lot',
        code: row.code,
        lot: row.code,
        item: row.item,
        since: row.quarantined_at,
        says: `${amountOf(micro, row.unit)} ${nameOf(row.item)} ${source}, in quarantine ${waited(row.quarantined_at, now)}${own}`,
        step: { label: 'Decide on the release', place: 'lot', code: row.code },
      },
    ];
  });
}

const spansOf = (text: string | null): SpanSet | null => (text === null ? null : parseSpans(text));

async function inspectionsOf(from: Ground['from'], lots: readonly string[]): Promise<Map<string, LotInspection[]>> {
  const rows = await selectIn<
    { code: string; lot: string; spans: string | null; opened_seq: number } & Pick<LotInspection, 'state' | 'verdict'>
  >(from, 'SELECT "code", "lot", "spans", "state", "verdict", "opened_seq" FROM "inspection" WHERE "lot" IN (:list)', lots);
  const sorted = rows.toSorted((a, b) => a.opened_seq - b.opened_seq);
  return new Map(
    [...grouped(sorted, (row) => row.lot)].map(([lot, of]) => [
      lot,
      of.map(({ code, spans, state, verdict }) => ({ inspection: code, spans: spansOf(spans), state, verdict })),
    ]),
  );
}

const isAccepted = (inspections: readonly LotInspection[], quarantined: string | null): boolean =>
  standingOver(inspections, spansOf(quarantined)).every(({ state, verdict }) => state === 'decided' && verdict === 'accepted');

/** Those that no instrument in question has judged; only lots that such an instrument ever judged are looked at one by one. */
async function unquestioned({ from }: Pick<Ground, 'from'>, rows: readonly Candidate[]): Promise<Candidate[]> {
  const judged = await selectIn<{ lot: string }>(
    from,
    `SELECT DISTINCT t."lot" FROM "test_result" t JOIN "instrument_question" q ON q."instrument" = t."instrument"
     WHERE q."dropped_seq" IS NULL AND q."answered_seq" IS NULL AND t."lot" IN (:list)`,
    rows.map((row) => row.code),
  );
  const doubtful = new Set<string>();
  for (const { lot } of judged) if ((await openQuestionsOn(from, lot)).length > 0) doubtful.add(lot);
  return rows.filter((row) => !doubtful.has(row.code));
}
