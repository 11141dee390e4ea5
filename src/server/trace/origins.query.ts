import type { EntityManager } from 'typeorm';
import { Reasons } from '../../../shared/refusal.js';
import { coversSpans, formatSpans, parseSpans, type SpanSet, spanSet, unionSpans, wholeLot } from '../../../shared/spans.js';
import { doubtNow } from '../plant/instruments/known-good.decide.js';
import { standingCalibrations } from '../plant/instruments/known-good.query.js';
import { storedSpans } from '../platform/database/columns.js';
import { queryRows } from '../platform/database/rows.js';
import { placesAt } from './trace.query.js';
import type { Origin } from './traced.js';

/** What a trace may start from, as asked: any mix, each narrowing nothing of the others. */
export interface TraceQuestion {
  readonly lot?: string | undefined;
  /** Piece numbers of `lot`, as `5-17,40`. */
  readonly pieces?: string | undefined;
  /** More lots, each whole. */
  readonly lots?: readonly string[] | undefined;
  readonly serial?: string | undefined;
  /** Item of `serial`, where several items have the same one. */
  readonly item?: string | undefined;
  readonly shipment?: string | undefined;
  readonly supplierLot?: string | undefined;
  /** Supplier of `supplierLot`. */
  readonly supplier?: string | undefined;
  readonly run?: string | undefined;
  /** A vessel: everything made in it from the cleaning before `at` to the one after it. */
  readonly vessel?: string | undefined;
  /** A line, with `from` and `to`: everything made on it in that time. */
  readonly line?: string | undefined;
  /** An instrument, with `from` and `to` or since it was last known good: every lot its results judged. */
  readonly instrument?: string | undefined;
  /** An instant within the stay of interest, for `vessel`. */
  readonly at?: string | undefined;
  readonly from?: string | undefined;
  readonly to?: string | undefined;
}

interface LotRow {
  id: number;
  code: string;
  pieces: number | null;
}

const LOT = 'SELECT l."id", l."code", l."pieces" FROM "lot" l';

/**
 * The lots and pieces a question starts from.
 * @throws Refusal naming everything in the question that the record does not know
 */
export async function originsOf(from: EntityManager, question: TraceQuestion, asKnownAt: number): Promise<Origin[]> {
  const no = new Reasons();
  const found = new Map<number, SpanSet | null>();
  const add = (lot: number, spans: SpanSet | null): void => {
    const before = found.get(lot);
    found.set(lot, before === undefined ? spans : before === null || spans === null ? null : unionSpans(before, spans));
  };
  const whole = (rows: readonly LotRow[], code: string, detail: string): void => {
    if (rows.length === 0) no.unknown(code, detail);
    for (const row of rows) add(row.id, row.pieces === null ? null : wholeLot(row.pieces));
  };
  const lots = (where: string, values: string[]) =>
    queryRows<LotRow>(from, `${LOT} WHERE ${where} AND l."born_seq" <= ? ORDER BY l."id"`, [...values, asKnownAt]);

  if (question.lot !== undefined) await lotOrigin(no, question.lot, question.pieces, await lots('l."code" = ?', [question.lot]), add);
  for (const code of question.lots ?? []) await lotOrigin(no, code, undefined, await lots('l."code" = ?', [code]), add);
  if (question.serial !== undefined) await serialOrigin(from, no, question.serial, question.item, add);
  if (question.shipment !== undefined) await shipmentOrigin(from, no, question.shipment, asKnownAt, add);
  if (question.supplierLot !== undefined) {
    const supplier = question.supplier === undefined ? '' : ' AND l."supplier" = ?';
    const rows = await lots(`l."supplier_lot" = ?${supplier}`, [
      question.supplierLot,
      ...(question.supplier === undefined ? [] : [question.supplier]),
    ]);
    whole(rows, 'supplier-lot-unknown', `no lot was received under the supplier's lot ${question.supplierLot}`);
  }
  if (question.run !== undefined) whole(await lots('l."source" = ?', [question.run]), 'run-unknown', `no lot came from ${question.run}`);
  if (question.vessel !== undefined) await vesselOrigin(from, no, question, asKnownAt, add);
  if (question.line !== undefined) await lineOrigin(from, no, question, asKnownAt, add);
  if (question.instrument !== undefined) await instrumentOrigin(from, no, question, asKnownAt, add);
  no.throwIfAny();
  if (found.size === 0) {
    no.malformed('no-origin', 'say what to trace: lot, serial, shipment, supplierLot, run, vessel, line or instrument');
    no.throwIfAny();
  }
  return [...found].map(([lot, spans]) => ({ lot, spans }));
}

async function lotOrigin(
  no: Reasons,
  code: string,
  pieces: string | undefined,
  rows: readonly LotRow[],
  add: (lot: number, spans: SpanSet | null) => void,
): Promise<void> {
  const row = rows[0];
  if (!row) {
    no.unknown('lot-unknown', `no lot ${code}`, { lot: code });
    return;
  }
  if (pieces === undefined) {
    add(row.id, row.pieces === null ? null : wholeLot(row.pieces));
    return;
  }
  const spans = parseSpans(pieces);
  if (row.pieces === null) no.malformed('lot-not-numbered', `${code} is a bulk lot: it has no piece numbers`, { lot: code });
  else if (!coversSpans(wholeLot(row.pieces), spans)) {
    no.malformed('pieces-outside', `${code} has pieces 1-${row.pieces}, asked for ${formatSpans(spans)}`, { lot: code });
  } else add(row.id, spans);
}

async function serialOrigin(
  from: EntityManager,
  no: Reasons,
  serial: string,
  item: string | undefined,
  add: (lot: number, spans: SpanSet | null) => void,
): Promise<void> {
  const rows = await queryRows<{ item: string; lot_id: number; piece: number }>(
    from,
    'SELECT "item", "lot_id", "piece" FROM "serial" WHERE "serial" = ? ORDER BY "item"',
    [serial],
  );
  const wanted = item === undefined ? rows : rows.filter((row) => row.item === item);
  if (wanted.length === 0)
    no.unknown('serial-unknown', `no unit with serial ${serial}${item === undefined ? '' : ` of ${item}`}`, { serial });
  if (wanted.length > 1) {
    const items = wanted.map((row) => row.item);
    no.conflict('serial-ambiguous', `serial ${serial} exists for ${items.join(', ')}: name the item`, { serial, items });
  } else for (const row of wanted) add(row.lot_id, spanSet([[row.piece, row.piece]]));
}

async function shipmentOrigin(
  from: EntityManager,
  no: Reasons,
  shipment: string,
  asKnownAt: number,
  add: (lot: number, spans: SpanSet | null) => void,
): Promise<void> {
  const rows = await queryRows<{ lot_id: number }>(
    from,
    `SELECT DISTINCT "lot_id" FROM "whereabout" WHERE "fate" = 'dispatched' AND "at" = ? AND "since_seq" <= ?`,
    [shipment, asKnownAt],
  );
  if (rows.length === 0) no.unknown('shipment-unknown', `no shipment ${shipment}`, { shipment });
  const places = await placesAt(
    from,
    rows.map((row) => row.lot_id),
    asKnownAt,
    'dispatched',
  );
  for (const part of places) if (part.at === shipment) add(part.lotId, part.spans);
}

/** Every batch that was in the vessel between the last cleaning before `at` (left out: the latest stay) and the next one after it. */
async function vesselOrigin(
  from: EntityManager,
  no: Reasons,
  { vessel, at }: TraceQuestion,
  asKnownAt: number,
  add: (lot: number, spans: SpanSet | null) => void,
): Promise<void> {
  const when = at ?? '9999-12-31T00:00:00.000Z';
  const cleanings = await queryRows<{ at: string }>(
    from,
    'SELECT "cleaned_at" AS "at" FROM "vessel_cleaning" WHERE "vessel" = ? AND "seq" <= ?',
    [vessel!, asKnownAt],
  );
  const before = cleanings.map((row) => row.at).filter((cleaned) => cleaned <= when);
  const after = cleanings.map((row) => row.at).filter((cleaned) => cleaned > when);
  const rows = await queryRows<LotRow>(
    from,
    `SELECT DISTINCT l."id", l."code", l."pieces" FROM "vessel_batch" b JOIN "lot" l ON l."code" = b."lot"
     WHERE b."vessel" = ? AND b."at" >= ? AND b."at" <= ? AND b."seq" <= ? AND l."born_seq" <= ? ORDER BY l."id"`,
    [vessel!, before.toSorted().at(-1) ?? '', after.toSorted()[0] ?? '9999', asKnownAt, asKnownAt],
  );
  if (rows.length === 0) no.unknown('nothing-made', `nothing was made in ${vessel} in that time`, { vessel });
  for (const row of rows) add(row.id, row.pieces === null ? null : wholeLot(row.pieces));
}

async function lineOrigin(
  from: EntityManager,
  no: Reasons,
  question: TraceQuestion,
  asKnownAt: number,
  add: (lot: number, spans: SpanSet | null) => void,
): Promise<void> {
  const rows = await queryRows<LotRow>(
    from,
    `${LOT} JOIN "run" r ON r."code" = l."source"
     WHERE r."line" = ? AND l."born_at" >= ? AND r."started_at" <= ? AND l."born_seq" <= ? ORDER BY l."id"`,
    [question.line!, question.from ?? '', question.to ?? '9999', asKnownAt],
  );
  if (rows.length === 0) no.unknown('nothing-made', `nothing was made on ${question.line} in that time`, { line: question.line });
  for (const row of rows) add(row.id, row.pieces === null ? null : wholeLot(row.pieces));
}

/** What the inspections stood for in which the instrument was used: a measured piece speaks for all of them. */
async function instrumentOrigin(
  from: EntityManager,
  no: Reasons,
  question: TraceQuestion,
  asKnownAt: number,
  add: (lot: number, spans: SpanSet | null) => void,
): Promise<void> {
  const instrument = question.instrument!;
  const named = question.from !== undefined || question.to !== undefined;
  const time = named ? question : doubtNow(await standingCalibrations(from, instrument, asKnownAt));
  const rows = await queryRows<LotRow & { spans: string | null }>(
    from,
    `SELECT DISTINCT l."id", l."code", l."pieces", i."spans" FROM "test_result" t JOIN "inspection" i ON i."code" = t."inspection"
     JOIN "lot" l ON l."code" = i."lot"
     WHERE t."instrument" = ? AND t."at" >= ? AND t."at" <= ? AND t."since_seq" <= ? AND (t."until_seq" IS NULL OR t."until_seq" > ?)
     ORDER BY l."id", i."spans"`,
    [instrument, time.from ?? '', time.to ?? '9999', asKnownAt, asKnownAt],
  );
  if (rows.length === 0) no.unknown('nothing-judged', `no result was taken with ${instrument} in that time`, { instrument });
  for (const row of rows) {
    const judged = storedSpans(row.spans);
    add(row.id, row.pieces === null ? null : (judged ?? wholeLot(row.pieces)));
  }
}
