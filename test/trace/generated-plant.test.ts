import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { traceBackward, traceForward } from '../../src/server/trace/walk.js';
import { writeImportFolder } from '../bench/plant-csv.js';
import { generatePlant } from '../bench/plant-generator.js';
import { indexOfPlant, linksOf } from '../bench/plant-index.js';
import { SIZES } from '../bench/plant.js';
import { SqlTrace } from '../sql-trace.js';
import { spansOf } from './answers.js';

const folder = mkdtempSync(join(tmpdir(), 'plant-'));
afterAll(() => rmSync(folder, { recursive: true }));

const plant = generatePlant(SIZES.tiny);

/** Per-piece reach over sets, written for a plant of a hundred thousand pieces: shares no code with the index. */
function reachByPiece(forward: boolean, lot: number): Map<number, Set<number>> {
  const { links, lots } = plant;
  const [nearLot, nearFirst, nearLast] = forward
    ? [links.fromLot, links.fromFirst, links.fromLast]
    : [links.toLot, links.toFirst, links.toLast];
  const [farLot, farFirst, farLast] = forward
    ? [links.toLot, links.toFirst, links.toLast]
    : [links.fromLot, links.fromFirst, links.fromLast];
  const rows = rowsByLot(nearLot);
  const reached = new Map<number, Set<number>>();
  const todo: [lot: number, piece: number][] = [];
  const add = (to: number, piece: number): void => {
    const pieces = reached.get(to) ?? new Set();
    reached.set(to, pieces);
    if (pieces.has(piece)) return;
    pieces.add(piece);
    todo.push([to, piece]);
  };
  const whole = lots[lot - 1]!.pieces;
  for (let piece = Math.min(1, whole); piece <= whole; piece++) add(lot, piece);
  const followed = new Set<number>();
  for (let node = todo.pop(); node; node = todo.pop()) {
    for (const row of rows.get(node[0]) ?? []) {
      if (node[1] < nearFirst[row]! || node[1] > nearLast[row]!) continue;
      if (links.each[row]) add(farLot[row]!, farFirst[row]! + node[1] - nearFirst[row]!);
      else if (!followed.has(row)) for (let piece = farFirst[row]!; piece <= farLast[row]!; piece++) add(farLot[row]!, piece);
      followed.add(row);
    }
  }
  return reached;
}

const grouped = new Map<number[], Map<number, number[]>>();
function rowsByLot(column: number[]): Map<number, number[]> {
  const known = grouped.get(column);
  if (known) return known;
  const rows = new Map<number, number[]>();
  for (const [row, lot] of column.entries()) {
    const list = rows.get(lot);
    if (list) list.push(row);
    else rows.set(lot, [row]);
  }
  grouped.set(column, rows);
  return rows;
}

test('every lot of a generated plant, both directions: index and per-piece reach agree', { timeout: 300_000 }, () => {
  const genealogy = indexOfPlant(plant, 0.9);
  const wrong: string[] = [];
  for (const { id, code } of plant.lots) {
    for (const [name, trace] of Object.entries({ forward: traceForward, backward: traceBackward })) {
      const spans = new Map(
        [...reachByPiece(name === 'forward', id)].map(([lot, pieces]) => [lot, pieces.has(0) ? 'bulk' : String(spansOf([...pieces]))]),
      );
      const answer = new Map(
        trace(genealogy, [{ lot: id, spans: null }]).lots.map((reached) => [
          reached.lot,
          reached.spans === null ? 'bulk' : String(reached.spans),
        ]),
      );
      if (answer.size !== spans.size || [...answer].some(([lot, text]) => spans.get(lot) !== text)) wrong.push(`${name} ${code}`);
    }
  }
  expect(wrong).toEqual([]);
});

test('every lot of a generated plant, both directions: index and recursive query count the same pieces', async () => {
  const sql = await SqlTrace.open(join(folder, 'plant.sqlite'));
  await sql.fill([...linksOf(plant)].map((link) => ({ ...link, voidedAt: null })));
  const genealogy = indexOfPlant(plant);
  const wrong: string[] = [];
  for (const { id, code, pieces } of plant.lots) {
    for (const [direction, trace] of [
      ['forward', traceForward],
      ['backward', traceBackward],
    ] as const) {
      // prettier-ignore
      const known = await sql.countPieces(direction, { lot: id, first: Math.min(1, pieces), last: pieces }, plant.runs.length);
      const counted = trace(genealogy, [{ lot: id, spans: null }]).lots.reduce((sum, reached) => sum + reached.affectedPieces, 0);
      if (counted !== known) wrong.push(`${direction} ${code}: ${counted} instead of ${known}`);
    }
  }
  await sql.close();
  expect(wrong).toEqual([]);
});

test('the plant has what makes tracing hard, and conserves', () => {
  const kinds = new Set(plant.runs.map(({ kind }) => kind));
  expect(kinds).toEqual(new Set(['mixing', 'filling', 'building', 'rework']));
  const lotOf = (id: number) => plant.lots[id - 1]!;
  const heels = [...linksOf(plant)].filter(
    ({ fromLot, toLot }) => lotOf(fromLot).item.startsWith('MIX') && lotOf(toLot).item.startsWith('MIX'),
  );
  expect(heels.length).toBeGreaterThan(0);
  for (const lot of plant.lots) expect(lot.usedMicro).toBeLessThanOrEqual(lot.quantityMicro);
  for (const [at, run] of plant.runs.entries()) {
    for (let row = run.firstLink; row < (plant.runs[at + 1]?.firstLink ?? plant.links.count); row++) {
      expect(lotOf(plant.links.fromLot[row]!).at).toBeLessThan(run.at);
      expect(lotOf(plant.links.toLot[row]!).at).toBe(run.at);
    }
  }
  const taken = new Map(plant.lots.map((lot) => [lot.id, new Uint8Array(lot.pieces + 1)]));
  const take = (lot: number, first: number, last: number): void => {
    const pieces = taken.get(lot)!;
    expect(pieces.subarray(first, last + 1).every((piece) => piece === 0)).toBe(true);
    pieces.fill(1, first, last + 1);
  };
  for (const { fromLot, fromFirst, fromLast } of linksOf(plant)) if (fromFirst > 0) take(fromLot, fromFirst, fromLast);
  for (const { lot, first, last, at } of plant.lines) {
    take(lot.id, first, last);
    expect(at).toBeGreaterThan(lot.at);
  }
});

const filesOf = (dir: string): string[] =>
  ['parties', 'items', 'lots', 'links', 'shipments'].map((file) => readFileSync(join(dir, `${file}.csv`), 'utf8'));

test('the same size and seed write the same files, another seed others', async () => {
  for (const [dir, seed] of Object.entries({ a: 1, b: 1, c: 2 })) await writeImportFolder(join(folder, dir), { ...SIZES.tiny, seed });
  const [a, b, c] = ['a', 'b', 'c'].map((dir) => filesOf(join(folder, dir)));
  expect(a).toEqual(b);
  expect(a).not.toEqual(c);
  expect(a![2]!.split('\n')[0]).toBe('lot,item,quantity,pieces,origin,at,supplier,supplier_lot,expires_on,status');
  expect(a![3]!.split('\n').length).toBe(plant.links.count + 2);
});
