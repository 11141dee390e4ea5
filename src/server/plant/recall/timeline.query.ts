import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { formatSpans, intersectSpans, parseSpans, type SpanSet, subtractSpans } from '../../../../shared/spans.js';
import type { SignedDecision, TimelineEntry } from '../../documents/recall-report.types.js';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { selectIn } from '../../platform/database/rows.js';
import type { Signature } from '../people/signature.js';
import type { Figures } from './figures.query.js';
import type { KnownLot } from './known-at.query.js';
import { type Happening, partInWords, told } from './timeline.js';

interface Attributed {
  seq: number;
  at: string;
  actor: string;
}

/** Everything that happened to affected goods up to the entry, in plain words and in ledger order. */
export async function timelineAt(from: EntityManager, figures: Figures): Promise<TimelineEntry[]> {
  const happenings = told([
    ...[...figures.lots.values()].filter((lot) => figures.affected.has(lot.id)).map(birth),
    ...shipped(figures),
    ...(await returned(from, figures)),
    ...(await changed(from, figures)),
    ...(await fates(from, figures)),
  ]);
  const entries = await attributed(
    from,
    happenings.map((happening) => happening.seq),
  );
  return happenings.map(({ seq, what }) => ({ seq, at: entries.get(seq)!.at, who: entries.get(seq)!.actor, what }));
}

async function attributed(from: EntityManager, seqs: readonly number[]): Promise<Map<number, Attributed>> {
  const rows = await selectIn<Attributed>(from, 'SELECT "seq", "at", "actor" FROM "ledger_entry" WHERE "seq" IN (:list)', [
    ...new Set(seqs),
  ]);
  return new Map(rows.map((row) => [row.seq, row]));
}

function birth(lot: KnownLot): Happening {
  const amount = `${formatQuantity(lot.quantityMicro)} ${lot.pieces === null ? lot.unit : 'pieces'} of ${lot.itemRecord?.name ?? lot.item}`;
  const common = { seq: lot.bornSeq, on: lot.bornAt.slice(0, 10) };
  if (lot.origin === 'received') {
    const theirs = lot.supplierLot === null ? '' : `, supplier's lot ${lot.supplierLot}`;
    return {
      ...common,
      kind: 'received',
      what: `${lot.lot} received from ${lot.supplier ?? 'an unnamed supplier'} on ${lot.source}${theirs}: ${amount}`,
    };
  }
  const words = { made: `made by ${lot.source}`, returned: `came back on ${lot.source}`, opening: `brought over by ${lot.source}` }[
    lot.origin
  ];
  return { ...common, kind: 'made', what: `${lot.lot} ${words}: ${amount}` };
}

function shipped({ lines, affected, lots, parties }: Figures): Happening[] {
  return lines.flatMap((line): Happening[] => {
    const spans = meeting(affected.get(line.lotId)!, line.spans);
    if (spans !== null && spans.length === 0) return [];
    const { lot, unit } = lots.get(line.lotId)!;
    const name = parties.get(line.customer)?.name;
    const to = name === undefined ? line.customer : `${line.customer} ${name}`;
    return [
      {
        seq: line.seq,
        kind: 'shipped',
        on: line.shippedAt.slice(0, 10),
        what: `${line.shipment} to ${to}: ${partInWords(lot, unit, spans, line.quantityMicro)}`,
      },
    ];
  });
}

const meeting = (affected: SpanSet | null, spans: SpanSet | null): SpanSet | null =>
  affected === null || spans === null ? null : intersectSpans(affected, spans);

async function returned(from: EntityManager, { affected, lots, seq }: Figures): Promise<Happening[]> {
  const rows = await selectIn<{
    lot_id: number;
    spans: string | null;
    quantity: unknown;
    return_code: string;
    customer: string;
    returned_at: string;
    booked_seq: number;
  }>(
    from,
    `SELECT n."lot_id", n."spans", n."quantity", n."return_code", r."customer", r."returned_at", r."booked_seq"
     FROM "return_line" n JOIN "goods_return" r ON r."code" = n."return_code" WHERE r."booked_seq" <= ${seq} AND (r."reversed_seq" IS NULL OR r."reversed_seq" > ${seq}) AND n."lot_id" IN (:list)`,
    [...affected.keys()],
  );
  return rows.flatMap((row): Happening[] => {
    const spans = meeting(affected.get(row.lot_id)!, storedSpans(row.spans));
    if (spans !== null && spans.length === 0) return [];
    const { lot, unit } = lots.get(row.lot_id)!;
    const part = partInWords(lot, unit, spans, safeInteger(row.quantity));
    const what = `${row.return_code}: ${part} came back from ${row.customer}`;
    return [{ seq: row.booked_seq, kind: 'returned', on: row.returned_at.slice(0, 10), what }];
  });
}

const STATUS_WORDS: Readonly<Record<string, string>> = {
  released: 'released',
  quarantine: 'put in quarantine',
  'not-accepted': 'not accepted',
};

/** Releases and other changes of status after birth; holds on the lots, placed and lifted. */
async function changed(from: EntityManager, { affected, lots, seq }: Figures): Promise<Happening[]> {
  const ids = [...affected.keys()];
  const statuses = await selectIn<StatusRow>(
    from,
    `SELECT s."lot_id", s."status", s."since_seq", s."until_seq", s."spans", l."born_seq", e."at" FROM "lot_status" s
     JOIN "lot" l ON l."id" = s."lot_id" JOIN "ledger_entry" e ON e."seq" = s."since_seq"
     WHERE s."since_seq" <= ${seq} AND s."lot_id" IN (:list)`,
    ids,
  );
  const holds = await selectIn<HoldRow>(
    from,
    `SELECT h."code", h."lot_id", h."spans", h."reason", h."placed_seq", h."placed_at", h."lifted_seq", h."lift_reason", e."at" AS "lifted_at"
     FROM "hold" h LEFT JOIN "ledger_entry" e ON e."seq" = h."lifted_seq" WHERE h."placed_seq" <= ${seq} AND h."lot_id" IN (:list)`,
    ids,
  );
  return [
    ...grown(statuses).map(({ row, spans }): Happening => {
      const { lot } = lots.get(row.lot_id)!;
      const what = `${spans === null ? '' : `Pieces ${formatSpans(spans)} of `}${lot} ${STATUS_WORDS[row.status] ?? row.status}`;
      return { seq: row.since_seq, kind: 'status', on: row.at.slice(0, 10), what };
    }),
    ...holds.flatMap((hold) => holdHappenings(hold, lots.get(hold.lot_id)!.lot, seq)),
  ];
}

interface HoldRow {
  code: string;
  lot_id: number;
  spans: string | null;
  reason: string;
  placed_seq: number;
  placed_at: string;
  lifted_seq: number | null;
  lifted_at: string | null;
  lift_reason: string | null;
}

function holdHappenings(hold: HoldRow, lot: string, seq: number): Happening[] {
  const part = `${hold.spans === null ? '' : `pieces ${hold.spans} of `}${lot}`;
  const on = hold.placed_at.slice(0, 10);
  const placed: Happening = { seq: hold.placed_seq, kind: 'hold', on, what: `Hold ${hold.code} placed on ${part}: ${hold.reason}` };
  if (hold.lifted_seq === null || hold.lifted_at === null || hold.lifted_seq > seq) return [placed];
  const what = `Hold ${hold.code} lifted from ${part}: ${hold.lift_reason ?? ''}`;
  return [placed, { seq: hold.lifted_seq, kind: 'hold', on: hold.lifted_at.slice(0, 10), what }];
}

interface StatusRow {
  lot_id: number;
  status: string;
  since_seq: number;
  until_seq: number | null;
  spans: string | null;
  born_seq: number;
  at: string;
}

/** What took a status after birth; a row that only lost pieces is no happening of its own. */
function grown(rows: readonly StatusRow[]): { row: StatusRow; spans: SpanSet | null }[] {
  const before = new Map(rows.map((row) => [`${row.lot_id}.${row.status}.${row.until_seq}`, row]));
  return rows.flatMap((row): { row: StatusRow; spans: SpanSet | null }[] => {
    if (row.since_seq === row.born_seq) return [];
    if (row.spans === null) return [{ row, spans: null }];
    const old = before.get(`${row.lot_id}.${row.status}.${row.since_seq}`);
    const spans = subtractSpans(parseSpans(row.spans), old?.spans ? parseSpans(old.spans) : []);
    return spans.length === 0 ? [] : [{ row, spans }];
  });
}

const FATE_WORDS: Readonly<Record<string, string>> = {
  scrapped: 'scrapped',
  retained: 'kept as retain sample',
  'destroyed-in-test': 'destroyed in test',
  'returned-to-supplier': 'returned to the supplier',
  'count-difference': 'counted as missing or found',
};

async function fates(from: EntityManager, { affected, lots, seq }: Figures): Promise<Happening[]> {
  const rows = await selectIn<{ lot_id: number; fate: string; at: string; since_seq: number; recorded_at: string }>(
    from,
    `SELECT w."lot_id", w."fate", w."at", w."since_seq", e."at" AS "recorded_at" FROM "whereabout" w
     JOIN "ledger_entry" e ON e."seq" = w."since_seq"
     WHERE w."since_seq" <= ${seq} AND w."fate" NOT IN ('on-hand', 'consumed', 'dispatched') AND w."lot_id" IN (:list)`,
    [...affected.keys()],
  );
  return rows.map((row) => ({
    seq: row.since_seq,
    kind: 'fate',
    on: row.recorded_at.slice(0, 10),
    what: `Part of ${lots.get(row.lot_id)!.lot} ${FATE_WORDS[row.fate] ?? row.fate}, ${row.at}`,
  }));
}

interface SignedBody {
  readonly kind: string;
  readonly signature?: Signature;
  readonly hold?: string;
  readonly urgentRelease?: string;
  readonly reason?: string;
}

/** Entries that may have decided about a lot: what was signed when it was born is no decision about it. */
const DECIDING = [
  `SELECT s."since_seq" AS "seq" FROM "lot_status" s JOIN "lot" l ON l."id" = s."lot_id" AND l."born_seq" <> s."since_seq" WHERE s."lot_id" IN (:list)`,
  'SELECT "placed_seq" AS "seq" FROM "hold" WHERE "lot_id" IN (:list)',
  'SELECT "lifted_seq" AS "seq" FROM "hold" WHERE "lifted_seq" IS NOT NULL AND "lot_id" IN (:list)',
  'SELECT "opened_seq" AS "seq" FROM "urgent_release" WHERE "lot_id" IN (:list)',
  'SELECT "closed_seq" AS "seq" FROM "urgent_release" WHERE "closed_seq" IS NOT NULL AND "lot_id" IN (:list)',
];

/** Signed decisions about affected lots up to the entry: releases, holds, urgent releases. */
export async function decisionsAt(from: EntityManager, { affected, seq }: Figures): Promise<SignedDecision[]> {
  const ids = [...affected.keys()];
  const seqs = new Set<number>();
  for (const sql of DECIDING) for (const row of await selectIn<{ seq: number }>(from, sql, ids)) if (row.seq <= seq) seqs.add(row.seq);
  const entries = await selectIn<{ seq: number; at: string; body: string }>(
    from,
    'SELECT "seq", "at", "body" FROM "ledger_entry" WHERE "seq" IN (:list)',
    [...seqs],
  );
  return entries
    .flatMap(({ seq: entry, at, body }): SignedDecision[] => {
      const fact = JSON.parse(body) as SignedBody;
      if (!fact.signature) return [];
      const named = fact.hold ?? fact.urgentRelease;
      const what = `${inWords(fact.kind)}${named === undefined ? '' : ` ${named}`}${fact.reason === undefined ? '' : `: ${fact.reason}`}`;
      return [{ seq: entry, at, who: fact.signature.by, what, meaning: fact.signature.meaning }];
    })
    .toSorted((a, b) => a.seq - b.seq);
}

/** `HoldPlaced` as `Hold placed`. */
const inWords = (kind: string): string => kind.replace(/(?<=[a-z])[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
