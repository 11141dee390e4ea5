import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import * as fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { traceBackward, traceForward } from '../../src/server/trace/walk.js';
import { oracleConservative, type OracleOrigin, type OraclePlant, oracleTrace } from '../oracle.js';
import { SqlTrace } from '../sql-trace.js';
import { answerOfIndex, answerOfOracle, originsOf, spansOf } from './answers.js';
import { indexOf, lastSeq } from './index-of-plant.js';
import { randomPlant } from './random-plant.js';

const directions = ['forward', 'backward'] as const;
const trace = { forward: traceForward, backward: traceBackward };
const folder = mkdtempSync(join(tmpdir(), 'trace-'));
let sql: SqlTrace;

beforeAll(async () => {
  sql = await SqlTrace.open(join(folder, 'trace.sqlite'));
});
afterAll(async () => {
  await sql.close();
  rmSync(folder, { recursive: true });
});

const small = randomPlant({ lots: 8, links: 24, most: 9 });
const wide = randomPlant({ lots: 5, links: 40, most: 120 });
const asked = fc.record({ asKnownAt: fc.nat(60), packed: fc.nat(40), seed: fc.nat() });

/** Every lot as a whole, and of every numbered lot a few pieces. */
function questions({ pieces }: OraclePlant, seed: number): OracleOrigin[][] {
  const lots = pieces.map((n, lot) => ({ n, lot })).slice(1);
  const wholes = lots.map(({ lot }) => [{ lot, pieces: null }]);
  const parts = lots
    .filter(({ n }) => n > 0)
    .map(({ n, lot }) => [
      { lot, pieces: [(seed % n) + 1, ((seed >> 3) % n) + 1, ((seed >> 3) % n) + 1 === n ? 1 : ((seed >> 3) % n) + 2] },
    ]);
  return [...wholes, ...parts, [...(wholes[seed % lots.length] ?? []), ...(parts[0] ?? [])]];
}

test.each([
  ['small plants full of cycles', small, 400],
  ['spans both short and long', wide, 120],
])('the index answers as the oracle: %s', (_name, plants, numRuns) => {
  fc.assert(
    fc.property(plants, asked, (plant, { asKnownAt, packed, seed }) => {
      const genealogy = indexOf(plant, packed % (plant.links.length + 1));
      for (const direction of directions) {
        for (const origins of questions(plant, seed)) {
          for (const known of [asKnownAt % (lastSeq(plant) + 2), lastSeq(plant)]) {
            const answer = answerOfIndex(trace[direction](genealogy, originsOf(origins), { asKnownAt: known }));
            expect(answer).toEqual(answerOfOracle(oracleTrace(plant, direction, origins, known)));
          }
        }
      }
    }),
    { numRuns },
  );
});

test('the conservative scope is that of lots and links alone', () => {
  fc.assert(
    fc.property(small, asked, (plant, { asKnownAt, packed, seed }) => {
      const genealogy = indexOf(plant, packed % (plant.links.length + 1));
      for (const direction of directions) {
        for (const origins of questions(plant, seed)) {
          const traced = trace[direction](genealogy, originsOf(origins), { asKnownAt, conservative: true });
          const depths = oracleConservative(plant, direction, origins, asKnownAt);
          expect(new Map(traced.lots.map(({ lot, depth }) => [lot, depth]))).toEqual(depths);
          for (const { lot, spans } of traced.lots) expect(spans).toEqual(plant.pieces[lot] === 0 ? null : [[1, plant.pieces[lot]]]);
        }
      }
    }),
    { numRuns: 150 },
  );
});

test('the index answers as a recursive query over spans', async () => {
  await fc.assert(
    fc.asyncProperty(small, asked, async (plant, { asKnownAt, packed, seed }) => {
      const genealogy = indexOf(plant, packed % (plant.links.length + 1));
      await sql.fill(plant.links);
      for (const direction of directions) {
        for (const origins of questions(plant, seed).filter(({ length }) => length === 1)) {
          const [origin] = originsOf(origins);
          const starts = origin!.spans ?? [plant.pieces[origin!.lot] === 0 ? [0, 0] : [1, plant.pieces[origin!.lot]!]];
          const rows = [];
          for (const [first, last] of starts) rows.push(...(await sql.trace(direction, { lot: origin!.lot, first, last }, asKnownAt)));
          const pieces = new Map<number, number[]>();
          for (const { lot, lo, hi } of rows) {
            pieces.set(lot, [...(pieces.get(lot) ?? []), ...Array.from({ length: hi - lo + 1 }, (_, k) => lo + k)]);
          }
          const answered = new Map([...pieces].map(([lot, list]) => [lot, list[0] === 0 ? null : spansOf(list)]));
          const traced = trace[direction](genealogy, [origin!], { asKnownAt });
          expect(new Map(traced.lots.map(({ lot, spans }) => [lot, spans]))).toEqual(answered);
        }
      }
    }),
    { numRuns: 60 },
  );
});
