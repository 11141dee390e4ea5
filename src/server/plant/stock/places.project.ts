import type { EntityManager } from 'typeorm';
import { coversSpans, formatSpans, type SpanSet, subtractSpans, unionSpans, wholeLot } from '../../../../shared/spans.js';
import { safeInteger, storedSpans } from '../../platform/database/columns.js';
import { insertRows, selectIn, type Value } from '../../platform/database/rows.js';
import type { Effects, Fate, LotStatus, Place } from './effects.facts.js';
import { lotIds } from './lot-ids.query.js';

/** A part of a lot at one place, while an entry is being projected. */
interface Part {
  quantityMicro: number;
  spans: SpanSet | null;
}

interface WhereaboutRow {
  lot_id: number;
  fate: Fate;
  at: string;
  quantity: unknown;
  spans: string | null;
}

const keyOf = (lotId: number, place: Place): string => `${lotId}\u0000${place.fate}\u0000${place.at}`;

/** Writes where every part of the lots an entry touches is after it: closes the rows that changed and adds the new ones. */
export async function projectPlaces(tx: EntityManager, seq: number, effects: Effects): Promise<void> {
  const born = effects.born ?? [];
  const moved = effects.moved ?? [];
  if (born.length + moved.length === 0) return;
  const ids = await lotIds(tx, [...born.map((lot) => lot.lot), ...moved.map((movement) => movement.lot)]);
  const rows = await selectIn<WhereaboutRow>(
    tx,
    'SELECT "lot_id", "fate", "at", "quantity", "spans" FROM "whereabout" WHERE "until_seq" IS NULL AND "lot_id" IN (:list)',
    [...new Set(moved.map((movement) => ids.get(movement.lot)!))],
  );
  const before = new Map(rows.map((row) => [keyOf(row.lot_id, row), partOf(row)]));
  const after = new Map(before);
  for (const lot of born) {
    const spans = lot.pieces === null ? null : wholeLot(lot.pieces);
    after.set(keyOf(ids.get(lot.lot)!, lot.place), { quantityMicro: lot.quantityMicro, spans });
  }
  for (const movement of moved) {
    const lotId = ids.get(movement.lot)!;
    const from = keyOf(lotId, movement.from);
    const to = keyOf(lotId, movement.to);
    after.set(from, less(after.get(from), movement, from));
    after.set(to, more(after.get(to), movement));
  }
  await writeChanges(tx, seq, before, after);
}

const partOf = (row: WhereaboutRow): Part => ({
  quantityMicro: safeInteger(row.quantity),
  spans: storedSpans(row.spans),
});

type Taken = { readonly quantityMicro: number; readonly spans: SpanSet | null };

/** A count that found more than the record leaves a negative count difference; every other place holds at least nothing. */
function less(part: Part | undefined, taken: Taken, key: string): Part {
  const quantityMicro = (part?.quantityMicro ?? 0) - taken.quantityMicro;
  if (quantityMicro < 0 && !key.includes('\u0000count-difference\u0000')) throw new Error(`the ledger takes more than is there: ${key}`);
  if (taken.spans === null) return { quantityMicro, spans: null };
  const spans = part?.spans ?? [];
  if (!coversSpans(spans, taken.spans)) throw new Error(`the ledger takes pieces that are not there: ${key}`);
  return { quantityMicro, spans: subtractSpans(spans, taken.spans) };
}

function more(part: Part | undefined, taken: Taken): Part {
  return {
    quantityMicro: (part?.quantityMicro ?? 0) + taken.quantityMicro,
    spans: taken.spans === null ? null : unionSpans(part?.spans ?? [], taken.spans),
  };
}

async function writeChanges(tx: EntityManager, seq: number, before: Map<string, Part>, after: Map<string, Part>): Promise<void> {
  const closed: string[][] = [];
  const opened: Value[][] = [];
  for (const [key, part] of after) {
    const old = before.get(key);
    const spans = part.spans === null ? null : formatSpans(part.spans);
    if (old && old.quantityMicro === part.quantityMicro && (old.spans === null ? null : formatSpans(old.spans)) === spans) continue;
    const [lotId, fate, at] = key.split('\u0000') as [string, string, string];
    if (old) closed.push([lotId, fate, at]);
    if (part.quantityMicro !== 0) opened.push([Number(lotId), fate, at, seq, part.quantityMicro, spans]);
  }
  await closeRows(tx, 'whereabout', ['lot_id', 'fate', 'at'], seq, closed);
  await insertRows(tx, 'whereabout', ['lot_id', 'fate', 'at', 'since_seq', 'quantity', 'spans'], opened);
}

/** Ends current rows at `seq`. Values are written as literals: the first is a number, the others are quoted. */
async function closeRows(tx: EntityManager, table: string, key: readonly string[], seq: number, rows: readonly string[][]): Promise<void> {
  const literal = (value: string, column: number) => (column === 0 ? String(Number(value)) : `'${value.replaceAll("'", "''")}'`);
  for (let start = 0; start < rows.length; start += 2000) {
    const tuples = rows.slice(start, start + 2000).map((row) => `(${row.map(literal).join(',')})`);
    const names = key.map((column) => `"${column}"`).join(', ');
    await tx.query(`UPDATE "${table}" SET "until_seq" = ${seq} WHERE "until_seq" IS NULL AND (${names}) IN (VALUES ${tuples.join(',')})`);
  }
}

interface StatusRow {
  lot_id: number;
  status: LotStatus;
  spans: string | null;
}

/** Writes the quality status of every part of the lots an entry touches after it. */
export async function projectStatuses(tx: EntityManager, seq: number, effects: Effects): Promise<void> {
  const born = effects.born ?? [];
  const changed = effects.restatused ?? [];
  if (born.length + changed.length === 0) return;
  const ids = await lotIds(tx, [...born.map((lot) => lot.lot), ...changed.map((change) => change.lot)]);
  const rows = await selectIn<StatusRow>(
    tx,
    'SELECT "lot_id", "status", "spans" FROM "lot_status" WHERE "until_seq" IS NULL AND "lot_id" IN (:list)',
    [...new Set(changed.map((change) => ids.get(change.lot)!))],
  );
  const before = new Map<number, Map<LotStatus, SpanSet | null>>();
  for (const row of rows) entryOf(before, row.lot_id).set(row.status, storedSpans(row.spans));
  const after = new Map([...before].map(([id, parts]) => [id, new Map(parts)]));
  for (const lot of born) entryOf(after, ids.get(lot.lot)!).set(lot.status, lot.pieces === null ? null : wholeLot(lot.pieces));
  for (const change of changed) restatus(entryOf(after, ids.get(change.lot)!), change.status, change.spans);

  const closed: string[][] = [];
  const opened: Value[][] = [];
  for (const [lotId, parts] of after) {
    const old = before.get(lotId) ?? new Map<LotStatus, SpanSet | null>();
    for (const status of new Set([...old.keys(), ...parts.keys()])) {
      const was = old.has(status) ? textOf(old.get(status)!) : undefined;
      const is = parts.has(status) ? textOf(parts.get(status)!) : undefined;
      if (was === is) continue;
      if (was !== undefined) closed.push([String(lotId), status]);
      if (is !== undefined) opened.push([lotId, status, seq, is]);
    }
  }
  await closeRows(tx, 'lot_status', ['lot_id', 'status'], seq, closed);
  await insertRows(tx, 'lot_status', ['lot_id', 'status', 'since_seq', 'spans'], opened);
}

const textOf = (spans: SpanSet | null): string | null => (spans === null ? null : formatSpans(spans));

function entryOf(map: Map<number, Map<LotStatus, SpanSet | null>>, lotId: number): Map<LotStatus, SpanSet | null> {
  const found = map.get(lotId) ?? new Map<LotStatus, SpanSet | null>();
  map.set(lotId, found);
  return found;
}

/** Gives `spans` (null: all of it) the status and takes them out of every other. */
function restatus(parts: Map<LotStatus, SpanSet | null>, status: LotStatus, spans: SpanSet | null): void {
  const all = [...parts.values()].reduce<SpanSet | null>((sum, part) => (part === null ? sum : unionSpans(sum ?? [], part)), null);
  if (all === null) {
    parts.clear();
    parts.set(status, null);
    return;
  }
  const given = spans ?? all;
  for (const [other, part] of parts) {
    const rest = subtractSpans(part ?? [], given);
    if (rest.length === 0) parts.delete(other);
    else parts.set(other, rest);
  }
  parts.set(status, unionSpans(parts.get(status) ?? [], given));
}
