import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setImmediate as giveWay } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { Genealogy } from '../../src/server/trace/genealogy.js';
import { sharesOf } from '../../src/server/trace/shares.js';
import { packSnapshot, unpackSnapshot } from '../../src/server/trace/snapshot.js';
import { traceBackward, traceForward } from '../../src/server/trace/walk.js';
import { SqlTrace } from '../sql-trace.js';
import { type Question, questionsOf } from './engine-questions.js';
import { diamond, everyLink, repacking } from './engine-shapes.js';
import { figure, median, microseconds, milliseconds, race } from './measure.js';
import { generatePlant } from './plant-generator.js';
import { indexOfPlant } from './plant-index.js';
import { type Plant, SIZES } from './plant.js';

type Print = (line: string) => void;

const originsOf = ({ lot, piece }: Question) => [{ lot, spans: piece === null ? null : [[piece, piece] as const] }];
const ask = (genealogy: Genealogy, question: Question) =>
  (question.direction === 'forward' ? traceForward : traceBackward)(genealogy, originsOf(question));
const count = (genealogy: Genealogy, question: Question): number =>
  ask(genealogy, question).lots.reduce((sum, reached) => sum + reached.affectedPieces, 0);

/**
 * Measures the genealogy index alone, without server or ledger, against one recursive query over the same link rows in
 * SQLite, and prints what it finds. Takes about a minute.
 */
export async function benchEngine(print: Print): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'bench-engine-'));
  try {
    await benchQuestions(print, join(folder, 'questions.sqlite'));
    await benchShapes(print, join(folder, 'shapes.sqlite'));
    await benchStart(print, await benchUpkeep(print, join(folder, 'rows.sqlite')));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function benchQuestions(print: Print, file: string): Promise<void> {
  const histories: { genealogy: Genealogy; questions: Question[] }[] = [];
  for (const size of ['small', 'medium'] as const) {
    const plant = generatePlant(SIZES[size]);
    const genealogy = indexOfPlant(plant);
    const questions = questionsOf(plant, genealogy);
    const sql = await SqlTrace.open(file);
    await sql.fill(everyLink(genealogy));
    print(`${size} plant: ${figure(genealogy.linkCount)} links, ${figure(genealogy.lotCount)} lots`);
    for (const question of questions) await benchQuestion(print, genealogy, sql, plant, question);
    await sql.close();
    rmSync(file);
    histories.push({ genealogy, questions });
  }
  const [short, long] = histories;
  if (short && long) benchHistory(print, short, long);
}

/** The same answer in one year of history and in ten; a reached lot, since the two answers are not quite equal. */
function benchHistory(print: Print, ...histories: { genealogy: Genealogy; questions: Question[] }[]): void {
  for (const name of ['450k', '30k']) {
    const ratios = Array.from({ length: 9 }, () => {
      const [short = 1, long = 1] = histories.map(({ genealogy, questions }) => {
        const question = questions.find((one) => one.name === name);
        return question ? microseconds(() => count(genealogy, question)) / ask(genealogy, question).lots.length : undefined;
      });
      return long / short;
    });
    print(`forward ${name}, ten times the history: ${figure(median(ratios))} times the time a reached lot (T8: at most 1.5)`);
  }
}

async function benchQuestion(print: Print, genealogy: Genealogy, sql: SqlTrace, plant: Plant, question: Question): Promise<void> {
  const lot = plant.lots[question.lot - 1];
  const first = question.piece ?? Math.min(1, lot?.pieces ?? 0);
  const origin = { lot: question.lot, first, last: question.piece ?? lot?.pieces ?? 0 };
  const answer = count(genealogy, question);
  const known = await sql.countPieces(question.direction, origin, plant.runs.length);
  if (known !== answer) throw new Error(`${question.name}: the index counts ${answer} pieces, the query ${known}`);
  const { engineMicros, otherMicros, times } = await race(
    () => count(genealogy, question),
    () => sql.countPieces(question.direction, origin, plant.runs.length),
  );
  const traced = ask(genealogy, question);
  const shares =
    question.direction === 'forward'
      ? `, with shares ${figure(microseconds(() => sharesOf(genealogy, ask(genealogy, question), originsOf(question))))} us`
      : '';
  const gate = { comp: 'T6', unit: 'T7', can: 'T7' }[question.name] ?? 'T3';
  print(
    `  ${question.direction} ${question.name} ${lot?.code}: ${figure(answer)} pieces, ${traced.lots.length} lots: index ${figure(engineMicros)} us${shares}; ` +
      `query ${figure(otherMicros)} us, ${figure(times)} times (${gate}: at least ${gate === 'T7' ? 25 : 8})`,
  );
}

async function benchShapes(print: Print, file: string): Promise<void> {
  const stages = repacking(6);
  const sql = await SqlTrace.open(file);
  await sql.fill(everyLink(stages));
  const { engineMicros, otherMicros, times } = await race(
    () => traceForward(stages, [{ lot: 1, spans: [[5_000, 5_005]] }]),
    () => sql.countPieces('forward', { lot: 1, first: 5_000, last: 5_005 }, 4e8),
  );
  await sql.close();
  print(
    `misaligned repacking, 6 stages: index ${figure(engineMicros)} us; query ${figure(otherMicros)} us, ${figure(times)} times (T18: at least 500)`,
  );
  for (const steps of [10, 20, 200]) {
    const genealogy = diamond(steps);
    const origins = [{ lot: 1, spans: null }];
    const micros = microseconds(() => sharesOf(genealogy, traceForward(genealogy, origins), origins));
    print(`shares of a diamond of ${steps} steps: ${figure(micros)} us (T17: at most 1,000 at 20, linear)`);
  }
}

/** What a start has to go by: the rows in the file, the snapshot, and each lot's pieces. */
interface Stored {
  readonly file: string;
  readonly packed: Buffer;
  readonly pieces: readonly number[];
  readonly seq: number;
  readonly links: number;
}

async function benchUpkeep(print: Print, file: string): Promise<Stored> {
  const plant = generatePlant(SIZES.million);
  const genealogy = indexOfPlant(plant);
  const bytes = (genealogy.byteLength / genealogy.linkCount).toFixed(1);
  print(`million plant: ${figure(genealogy.linkCount)} links, ${bytes} bytes a link (T11: at most 64)`);
  await benchAppend(print, plant, Array.from(everyLink(genealogy)), questionsOf(plant, genealogy)[0]);
  const sql = await SqlTrace.open(file);
  await sql.fill(everyLink(genealogy));
  await sql.close();
  const packed = packSnapshot(genealogy, 'ab');
  print(`  snapshot of ${figure(packed.length / 1e6)} MB packed in ${figure(timed(() => packSnapshot(genealogy, 'ab')))} ms`);
  return { file, packed, pieces: plant.lots.map((lot) => lot.pieces), seq: genealogy.committedSeq, links: genealogy.linkCount };
}

/** Apart from `benchUpkeep`, so that the generated plant is gone: rows read beside a full heap take several times as long. */
async function benchStart(print: Print, stored: Stored): Promise<void> {
  const cover = { seq: stored.seq, hash: 'ab' };
  const unpacked = median([1, 2, 3, 4, 5].map(() => timed(() => unpackSnapshot(stored.packed, cover))));
  globalThis.gc?.();
  const sql = await SqlTrace.open(stored.file);
  const rows = await milliseconds(() => loadFromRows(sql, stored));
  await sql.close();
  print(
    `  restored in ${figure(unpacked)} ms, ${figure((unpacked * 1e6) / stored.links)} ms a million links; ` +
      `from rows ${figure(rows)} ms, ${figure(rows / unpacked)} times (T14: at least 8)`,
  );
}

async function benchAppend(
  print: Print,
  plant: Plant,
  links: ReturnType<Genealogy['table']['read']>[],
  wide: Question | undefined,
): Promise<void> {
  const fresh = indexOfPlant({ ...plant, runs: [] });
  const append = timed(() => {
    for (const link of links) fresh.append(link);
  });
  fresh.commitUpTo(plant.runs.length);
  const gaps: number[] = [];
  let last = performance.now();
  const start = last;
  await fresh.compactInSlices(async () => {
    gaps.push(performance.now() - last);
    await giveWay();
    last = performance.now();
  });
  const build = performance.now() - start;
  print(
    `  append ${figure((append * 1e3) / links.length)} us a link (T13: at most 2); packing ${figure((build * 1e6) / links.length)} ns a link ` +
      `(T12: at most 800), in slices of at most ${figure(Math.max(...gaps))} ms`,
  );
  if (!wide) return;
  const behind = indexOfPlant(plant, 0.95);
  const ratio = median([1, 2, 3, 4, 5, 6, 7].map(() => microseconds(() => count(behind, wide)) / microseconds(() => count(fresh, wide))));
  print(`  wide trace with the newest 5 % waiting to be packed: ${figure(ratio)} times (T13: at most 2.5)`);
}

/** What a start without a snapshot does: pages by key, appended and packed. */
async function loadFromRows(sql: SqlTrace, { pieces, seq: lastSeq }: Stored): Promise<void> {
  const genealogy = new Genealogy();
  for (const [at, lotPieces] of pieces.entries()) genealogy.addLot(at + 1, lotPieces);
  for (let after = 0; ;) {
    const rows = await sql.all<Record<string, number>>('SELECT rowid AS id, * FROM link WHERE rowid > ? ORDER BY rowid LIMIT 5000', [
      after,
    ]);
    for (const { id = 0, f = 0, flo = 0, fhi = 0, t = 0, tlo = 0, thi = 0, one, seq = 0 } of rows) {
      const link = { seq, ord: id, fromLot: f, fromFirst: flo, fromLast: fhi, toLot: t, toFirst: tlo, toLast: thi };
      genealogy.append({ ...link, quantityMicro: 1, massMicro: 0, map: one === 1 ? 'each' : 'all', blends: false });
      after = id;
    }
    if (rows.length < 5000) break;
  }
  genealogy.commitUpTo(lastSeq);
  genealogy.compact();
}

function timed(work: () => unknown): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  await benchEngine((line) => process.stdout.write(`${line}\n`));
}
