import type { EntityManager } from 'typeorm';
import { rowColumns } from '../../../../shared/measuring/method.js';
import type { Rounding } from '../../../../shared/measuring/rounding.js';
import { formatQuantity } from '../../../../shared/quantity.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import type { Characteristic } from '../catalogue/inspection-plan.facts.js';
import { samplePlan, severityFor } from './begin.decide.js';
import type { InspectedItem, InspectionDecided, Measured, ResultRecorded, SamplePlan } from './inspection.facts.js';
import type { InspectionState } from './inspection-state.facts.js';
import { type InspectionRow, inspectionState, switchingOf } from './inspection-state.query.js';
import type {
  CharacteristicView,
  ClassView,
  EndedView,
  InspectionLineView,
  InspectionView,
  MeasuredView,
  ResultView,
  SampleView,
  TallyView,
} from './inspection-view.dto.js';
import type { InspectionQueryDto } from './inspection.dto.js';
import { judge } from './judge.decide.js';

const CAUTION =
  'A sample speaks for its lot only as far as its operating characteristic says: a lot that is accepted can hold nonconforming items.';

type QueueRow = InspectionRow & { urgent_release: string | null; expires_on: string | null };

/** A lot that expires within this many days is inspected before older ones (the plant's own rule). */
const EXPIRES_SOON_DAYS = 30;

const SOON = `SELECT i.*, l."expires_on",
  (SELECT min(u."code") FROM "urgent_release" u WHERE u."lot_id" = l."id" AND u."closed_seq" IS NULL) AS "urgent_release"
  FROM "inspection" i JOIN "lot" l ON l."code" = i."lot"`;

/** What waits and is under way, most urgent first and then oldest; with a state that has ended, newest first. */
export async function inspectionQueue(from: EntityManager, query: InspectionQueryDto): Promise<InspectionLineView[]> {
  const wanted: (readonly [string, string])[] = [];
  if (query.state !== undefined) wanted.push(['i."state"', query.state]);
  if (query.lot !== undefined) wanted.push(['i."lot"', query.lot]);
  if (query.item !== undefined) wanted.push(['i."item"', query.item]);
  const where = wanted.length === 0 ? `i."state" IN ('waiting', 'begun')` : wanted.map(([column]) => `${column} = ?`).join(' AND ');
  const rows = await queryRows<QueueRow>(
    from,
    `${SOON} WHERE ${where} ORDER BY i."opened_seq" DESC, i."code" DESC LIMIT 1000`,
    wanted.map(([, value]) => value),
  );
  const lines = rows.map(lineView);
  const open = (line: InspectionLineView): boolean => line.state === 'waiting' || line.state === 'begun';
  return lines.every(open) ? lines.toSorted((a, b) => Number(b.urgent !== null) - Number(a.urgent !== null) || older(a, b)) : lines;
}

const older = (a: InspectionLineView, b: InspectionLineView): number => a.openedSeq - b.openedSeq || (a.inspection < b.inspection ? -1 : 1);

function lineView(row: QueueRow): InspectionLineView {
  return {
    inspection: row.code,
    lot: row.lot,
    item: row.item,
    pieces: row.spans,
    lotSize: row.lot_size === null ? null : safeInteger(row.lot_size),
    occasion: row.occasion,
    source: row.source,
    supplier: row.supplier,
    state: row.state,
    verdict: row.verdict,
    openedAt: row.opened_at,
    openedSeq: row.opened_seq,
    urgent: row.state === 'waiting' || row.state === 'begun' ? urgentBecause(row) : null,
    endedAt: row.ended_at,
  };
}

function urgentBecause({
  urgent_release: release,
  urgent_reason: reason,
  expires_on: expires,
  opened_at: opened,
}: QueueRow): string | null {
  if (release !== null) return `already in use under urgent release ${release}`;
  if (reason !== null) return reason;
  const days = expires === null ? Infinity : (Date.parse(expires) - Date.parse(opened.slice(0, 10))) / 86_400_000;
  if (days > EXPIRES_SOON_DAYS) return null;
  return days < 0 ? `had expired on ${expires} when it was opened` : `expires on ${expires}`;
}

/** One inspection with everything about it; undefined if there is none of that number. */
export async function inspectionView(from: EntityManager, inspection: string): Promise<InspectionView | undefined> {
  const [row] = await queryRows<QueueRow>(from, `${SOON} WHERE i."code" = ?`, [inspection]);
  const state = row && (await inspectionState(from, inspection));
  if (!row || !state) return undefined;
  const sample = state.sample ?? (await sampleNow(from, state));
  const judged = judge({ ...state, sample, characteristics: state.plan.characteristics });
  return {
    ...lineView(row),
    planRevision: row.plan_revision,
    resubmits: row.resubmits,
    sample: sample === null ? null : sampleView(sample),
    begun: row.begun_seq !== null,
    classes: judged.classes.map((standing): ClassView => {
      const plan = sample!.classes.find((one) => one.class === standing.class);
      return {
        class: standing.class,
        aql: plan?.aql ?? null,
        severity: plan?.severity ?? null,
        plan: plan?.plan ?? null,
        found: [...standing.found],
        ac: standing.ac,
        re: standing.re,
        standing: standing.standing,
        because: standing.because,
        planBecause: [...(plan?.because ?? [])],
        unverified: plan?.unverified ?? null,
      };
    }),
    characteristics: state.plan.characteristics.map(characteristicView),
    inspected: [...judged.inspected],
    toInspect: judged.toInspect,
    secondSample: judged.secondSample,
    missing: [...judged.missing],
    failed: [...judged.failed],
    nonconforming: judged.nonconforming,
    computed: judged.verdict,
    curtailed: judged.curtailed,
    tallies: await tallyViews(from, inspection),
    results: await resultViews(from, inspection),
    holds: await holdsPlacedBy(from, inspection),
    ended: row.ended_seq === null ? null : await endedView(from, row.ended_seq),
    caution: CAUTION,
  };
}

/** What would be taken if the inspection began now; null while the lot size or the severity does not allow it. */
async function sampleNow(from: EntityManager, state: InspectionState): Promise<SamplePlan | null> {
  const { sampling } = state.plan;
  if (sampling === undefined || state.lotSize === null || state.state !== 'waiting') return null;
  const switching = await switchingOf(from, state);
  if (sampling.classes.some((one) => switching.get(one.class)?.severity === 'discontinued')) return null;
  return samplePlan(sampling, state.lotSize, (of) => severityFor(of, state, switching));
}

/** A sample as it is shown. */
export const sampleView = ({ sizes, inspectAllBecause, edition, level, type, basis, codeLetter }: SamplePlan): SampleView => ({
  edition,
  level,
  type,
  basis,
  codeLetter,
  first: sizes[0],
  second: sizes[1],
  inspectAllBecause,
});

const shown = (micro: number | undefined): string | null => (micro === undefined ? null : formatQuantity(micro));

const roundingInWords = ({ decimals, rule }: Rounding): string =>
  `rounded once, at the end, to ${decimals === 1 ? '1 decimal' : `${decimals} decimals`}, a half ${rule === 'half-even' ? 'to the even digit' : 'away from zero'}`;

function characteristicView(one: Characteristic): CharacteristicView {
  const measured = one.kind === 'measured' ? one : null;
  return {
    code: one.code,
    name: one.name,
    kind: one.kind,
    class: one.class,
    per: measured?.per ?? null,
    unit: measured?.unit ?? null,
    lower: shown(measured?.lowerMicro),
    upper: shown(measured?.upperMicro),
    target: shown(measured?.targetMicro),
    replicates: measured?.replicates ?? null,
    columns: measured === null ? [] : [...rowColumns(measured.compute)],
    required: measured?.required ?? true,
    items: measured?.items ?? null,
    rounding: measured === null ? null : roundingInWords(measured.rounding),
    instrumentKind: measured?.instrumentKind ?? null,
    instrumentRequired: measured?.instrumentRequired ?? false,
    defect: one.kind === 'attribute' ? (one.defect ?? null) : null,
    procedure: one.procedure ?? null,
  };
}

/** A measured characteristic as it is shown. */
const measuredView = ({ valueMicro, inputs, figures, cautions, ...rest }: Measured): MeasuredView => ({
  ...rest,
  inputs: [...inputs],
  value: formatQuantity(valueMicro),
  figures: [...figures],
  cautions: [...cautions],
});

interface TallyRow {
  tally: number;
  sample: number;
  conforming: number;
  items: string;
  since_seq: number;
  taken_back_reason: string | null;
  actor: string;
  at: string;
}

async function tallyViews(from: EntityManager, inspection: string): Promise<TallyView[]> {
  const rows = await queryRows<TallyRow>(
    from,
    `SELECT t.*, e."actor", e."at" FROM "inspection_tally" t JOIN "ledger_entry" e ON e."seq" = t."since_seq"
     WHERE t."inspection" = ? ORDER BY t."tally"`,
    [inspection],
  );
  return rows.map((row) => ({
    tally: row.tally,
    sample: row.sample,
    conforming: row.conforming,
    items: (JSON.parse(row.items) as InspectedItem[]).map(({ piece, found, measured, files, note }) => ({
      piece,
      found: [...found],
      measured: measured.map(measuredView),
      files: [...files],
      note,
    })),
    by: row.actor,
    at: row.at,
    seq: row.since_seq,
    takenBack: row.taken_back_reason,
  }));
}

interface ResultRow {
  number: number;
  measured: string;
  person: string;
  at: string;
  since_seq: number;
  retest_of: number | null;
  reason: string | null;
  body: string;
}

/** Results of the lot, first to last, those that a retest follows too. */
async function resultViews(from: EntityManager, inspection: string): Promise<ResultView[]> {
  const rows = await queryRows<ResultRow>(
    from,
    `SELECT r."number", r."measured", r."person", r."at", r."since_seq", r."retest_of", r."reason", e."body"
     FROM "test_result" r JOIN "ledger_entry" e ON e."seq" = r."since_seq"
     WHERE r."inspection" = ? AND r."tally" = 0 ORDER BY r."number"`,
    [inspection],
  );
  const followed = new Set(rows.map((row) => row.retest_of));
  return rows.map((row) => ({
    ...measuredView(JSON.parse(row.measured) as Measured),
    result: row.number,
    by: row.person,
    measuredAt: row.at,
    seq: row.since_seq,
    retestOf: row.retest_of,
    reason: row.reason,
    followed: followed.has(row.number),
    files: [...(JSON.parse(row.body) as ResultRecorded).files],
  }));
}

async function holdsPlacedBy(from: EntityManager, inspection: string): Promise<string[]> {
  const rows = await queryRows<{ code: string }>(
    from,
    `SELECT DISTINCT h."code" FROM "entry_subject" s JOIN "hold" h ON h."placed_seq" = s."seq"
     WHERE s."kind" = 'inspection' AND s."code" = ? ORDER BY h."code"`,
    [inspection],
  );
  return rows.map((row) => row.code);
}

async function endedView(from: EntityManager, seq: number): Promise<EndedView> {
  const [entry] = await queryRows<{ at: string; actor: string; body: string }>(
    from,
    'SELECT "at", "actor", "body" FROM "ledger_entry" WHERE "seq" = ?',
    [seq],
  );
  const fact = JSON.parse(entry!.body) as Partial<InspectionDecided> & { readonly reason?: string };
  return {
    seq,
    at: entry!.at,
    by: entry!.actor,
    stricter: fact.stricter ?? null,
    reason: fact.reason ?? null,
    switched: (fact.switched ?? []).map((one) => ({
      class: one.class,
      plan: one.plan,
      before: one.before.severity,
      after: one.after.severity,
      because: one.because.map(({ rule, words }) => `${words} (${rule})`),
    })),
  };
}
