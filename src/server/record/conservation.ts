import type { EntityManager } from 'typeorm';
import { formatQuantity, MICRO } from '../../../shared/quantity.js';
import { countPieces, formatSpans, parseSpans, sameSpans, type SpanSet, unionSpans, wholeLot } from '../../../shared/spans.js';
import type { Fault } from '../ledger/chain.js';
import { safeInteger } from '../platform/database/columns.js';
import { queryRows } from '../platform/database/rows.js';

interface LotRow {
  id: number;
  code: string;
  unit: string;
  pieces: number | null;
  quantity: unknown;
  born_seq: number;
}

interface PartRow {
  lot_id: number;
  /** Fate and place, or status. */
  what: string;
  since_seq: number;
  until_seq: number | null;
  quantity: unknown;
  spans: string | null;
}

/** What one entry did to one lot: the parts it closed and the parts it opened. */
interface Step {
  readonly opened: PartRow[];
  readonly closed: PartRow[];
}

const LOTS_A_PAGE = 2000;

/**
 * Domain rule 2 at every point of the ledger. A lot is born whole, and every later entry that touches it opens exactly what it closes:
 * so at each entry all its parts add up to it, and the pieces of a numbered lot lie in one place each, and none nowhere. The same
 * holds for its quality status. Nothing but a count difference is ever below zero.
 * @see docs/rules/ledger.md L-9
 */
export async function* conservationFaults(tx: EntityManager): AsyncGenerator<Fault> {
  for (let last = 0; ;) {
    const lots = await queryRows<LotRow>(
      tx,
      `SELECT "id", "code", "unit", "pieces", "quantity", "born_seq" FROM "lot" WHERE "id" > ? ORDER BY "id" LIMIT ${LOTS_A_PAGE}`,
      [last],
    );
    if (lots.length === 0) return;
    const [from, to] = [lots[0]!.id, lots.at(-1)!.id];
    const places = await partsOf(tx, `"fate" || ' ' || "at" AS "what", "quantity"`, 'whereabout', from, to);
    const statuses = await partsOf(tx, `"status" AS "what", 0 AS "quantity"`, 'lot_status', from, to);
    for (const lot of lots) {
      yield* placeFaults(lot, places.get(lot.id) ?? []);
      yield* statusFaults(lot, statuses.get(lot.id) ?? []);
    }
    last = to;
  }
}

async function partsOf(tx: EntityManager, columns: string, table: string, from: number, to: number): Promise<Map<number, PartRow[]>> {
  const rows = await queryRows<PartRow>(
    tx,
    `SELECT "lot_id", ${columns}, "since_seq", "until_seq", "spans" FROM "${table}" WHERE "lot_id" >= ? AND "lot_id" <= ?
     ORDER BY "lot_id", "since_seq"`,
    [from, to],
  );
  const found = new Map<number, PartRow[]>();
  for (const row of rows) {
    const parts = found.get(row.lot_id);
    if (parts) parts.push(row);
    else found.set(row.lot_id, [row]);
  }
  return found;
}

function* placeFaults(lot: LotRow, parts: readonly PartRow[]): Generator<Fault> {
  const wholeMicro = safeInteger(lot.quantity);
  const fault = (what: string, detail: string): Fault => ({ what, where: `lot ${lot.code}`, detail });
  for (const part of parts) {
    const micro = safeInteger(part.quantity);
    if (micro < 0 && !part.what.startsWith('count-difference ')) {
      yield fault('below-nothing', `since entry ${part.since_seq} ${formatQuantity(micro)} ${lot.unit} are ${part.what}`);
    }
    if (lot.pieces !== null && countPieces(spansOf(part)) * MICRO !== micro) {
      yield fault(
        'pieces-miscounted',
        `since entry ${part.since_seq} pieces ${part.spans ?? 'none'} at ${part.what} are said to be ${formatQuantity(micro)}`,
      );
    }
  }
  if (parts.length === 0 && wholeMicro !== 0) yield fault('nowhere', `no part of ${formatQuantity(wholeMicro)} ${lot.unit} is anywhere`);
  for (const [seq, step] of stepsOf(parts)) {
    const bornMicro = seq === lot.born_seq ? wholeMicro : 0;
    const gainMicro = sumMicro(step.opened) - sumMicro(step.closed);
    if (gainMicro !== bornMicro) {
      const [is, should] = [formatQuantity(gainMicro), formatQuantity(bornMicro)];
      yield fault('quantity-not-conserved', `entry ${seq} changes what is there by ${is} ${lot.unit}, it should by ${should}`);
    }
    yield* pieceFaults(lot, seq, step, 'at two places', fault);
  }
}

function* statusFaults(lot: LotRow, parts: readonly PartRow[]): Generator<Fault> {
  const fault = (what: string, detail: string): Fault => ({ what, where: `lot ${lot.code}`, detail });
  if (parts.length === 0) yield fault('no-status', 'no part of it has a quality status');
  for (const [seq, step] of stepsOf(parts)) {
    yield* pieceFaults(lot, seq, step, 'in two statuses', fault);
    const gained = step.opened.length - step.closed.length;
    if (lot.pieces === null && gained !== (seq === lot.born_seq ? 1 : 0)) {
      yield fault('status-not-one', `after entry ${seq} it does not stand in exactly one status`);
    }
  }
}

function* pieceFaults(
  lot: LotRow,
  seq: number,
  step: Step,
  twice: string,
  fault: (what: string, detail: string) => Fault,
): Generator<Fault> {
  if (lot.pieces === null) return;
  const opened = unionOf(step.opened);
  const should = seq === lot.born_seq ? wholeLot(lot.pieces) : unionOf(step.closed);
  if (countPieces(opened) !== step.opened.reduce((sum, part) => sum + countPieces(spansOf(part)), 0)) {
    yield fault('piece-twice', `entry ${seq} puts pieces of ${formatSpans(opened)} ${twice}`);
  }
  if (!sameSpans(opened, should)) {
    yield fault(
      'pieces-not-conserved',
      `entry ${seq} places pieces ${formatSpans(opened) || 'none'}, it should place ${formatSpans(should) || 'none'}`,
    );
  }
}

function stepsOf(parts: readonly PartRow[]): Map<number, Step> {
  const steps = new Map<number, Step>();
  const at = (seq: number): Step => {
    const step = steps.get(seq) ?? { opened: [], closed: [] };
    steps.set(seq, step);
    return step;
  };
  for (const part of parts) {
    at(part.since_seq).opened.push(part);
    if (part.until_seq !== null) at(part.until_seq).closed.push(part);
  }
  return steps;
}

/** Text that is no list of pieces holds none: the count beside it says the rest. */
function spansOf(part: PartRow): SpanSet {
  try {
    return part.spans === null || part.spans === '' ? [] : parseSpans(part.spans);
  } catch {
    return [];
  }
}

const unionOf = (parts: readonly PartRow[]): SpanSet => parts.reduce<SpanSet>((sum, part) => unionSpans(sum, spansOf(part)), []);
const sumMicro = (parts: readonly PartRow[]): number => parts.reduce((sum, part) => sum + safeInteger(part.quantity), 0);
