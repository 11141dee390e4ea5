import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { PiecesOfLot } from '../../src/server/trace/suspects/population.js';
import { Population } from '../../src/server/trace/suspects/population.js';
import { type Candidate, rankNow, type Ranking } from '../../src/server/trace/suspects/rank.js';
import { traceBackward } from '../../src/server/trace/walk.js';
import { type OracleOrigin, type OraclePlant, oracleTrace } from '../oracle.js';
import { originsOf, spansOf } from './answers.js';
import { indexOf, lastSeq } from './index-of-plant.js';
import { randomPlant } from './random-plant.js';

interface Named extends Candidate {
  readonly name: string;
  readonly asked: OracleOrigin[];
}

interface Question {
  readonly plant: OraclePlant;
  readonly asKnownAt: number;
  readonly packed: number;
  readonly population: OracleOrigin[];
  readonly failed: OracleOrigin[];
  readonly candidates: Named[];
}

const piece = ({ lot, pieces }: OracleOrigin): string[] => pieces!.map((one) => `${lot}/${one}`);

/** A population, failures in it and candidates, taken from a random plant by random bits. */
function questionOf(plant: OraclePlant, bits: number[], asKnownAt: number, packed: number): Question {
  let at = 0;
  const bit = (): boolean => ((bits[at++ % bits.length]! >> (at % 13)) & 1) === 1;
  const numbered = plant.pieces.map((n, lot) => ({ n, lot })).filter(({ n, lot }) => lot > 0 && n > 0);
  const some = (of: OracleOrigin[]): OracleOrigin[] =>
    of.map(({ lot, pieces }) => ({ lot, pieces: pieces!.filter(bit) })).filter(({ pieces }) => pieces.length > 0);
  const whole = numbered.map(({ n, lot }) => ({ lot, pieces: Array.from({ length: n }, (_, k) => k + 1) }));
  const population = some(whole.slice(-3));
  const lots: OracleOrigin[][] = plant.pieces.slice(1).map((_, lot) => [{ lot: lot + 1, pieces: null }]);
  const parts = some(whole).map((part) => [part]);
  const together = lots.slice(1).map((one, k) => [...one, ...lots[k]!]);
  const candidates = [...lots, ...parts, ...together].map((asked, name) => ({ name: String(name), asked, parts: originsOf(asked) }));
  return { plant, asKnownAt, packed, population, failed: some(population), candidates };
}

const questions = fc
  .tuple(
    fc.oneof(randomPlant({ lots: 8, links: 24, most: 9 }), randomPlant({ lots: 6, links: 30, most: 120 })),
    fc.array(fc.nat(), { minLength: 7, maxLength: 31 }),
    fc.nat(60),
    fc.nat(40),
  )
  .map(([plant, bits, known, packed]) => questionOf(plant, bits, known % (lastSeq(plant) + 2), packed % (plant.links.length + 1)))
  .filter(({ population, failed }) => population.length > 0 && failed.length > 0);

const partsOf = (of: OracleOrigin[]): PiecesOfLot[] => of.map(({ lot, pieces }) => ({ lot, spans: spansOf(pieces)! }));

function ranking({ plant, asKnownAt, packed, population, failed, candidates }: Question): Ranking<Named> {
  const genealogy = indexOf(plant, packed);
  const asked = partsOf(population);
  const reached = traceBackward(genealogy, asked, { asKnownAt });
  return rankNow(genealogy, reached, new Population(asked), partsOf(failed), candidates);
}

/** By the oracle: the pieces of the population that hold or may hold some of a candidate. */
function exposedTo({ asked }: Named, { plant, asKnownAt, population }: Question): string[] {
  const reached = oracleTrace(plant, 'forward', asked, asKnownAt);
  return population.flatMap(piece).filter((one) => {
    const [lot, number] = one.split('/').map(Number);
    return reached.get(lot!)?.pieces.has(number!) ?? false;
  });
}

describe('who was exposed, as the oracle says', () => {
  test('pieces and failures of every candidate, and which cannot be told apart', () => {
    fc.assert(
      fc.property(questions, (question) => {
        const size = question.population.flatMap(piece).length;
        const failures = new Set(question.failed.flatMap(piece));
        const { groups, everywhere, candidates } = ranking(question);
        const groupOf = new Map(groups.flatMap((group) => group.candidates.map(({ name }) => [name, group] as const)));
        const everywhereNames = new Set(everywhere.map(({ name }) => name));
        const together = new Map<string, string[]>();
        for (const candidate of question.candidates) {
          const exposed = exposedTo(candidate, question);
          const group = groupOf.get(candidate.name);
          expect(everywhereNames.has(candidate.name)).toBe(exposed.length === size);
          expect(group !== undefined).toBe(exposed.length > 0 && exposed.length < size);
          if (!group) continue;
          const exposedFailed = exposed.filter((one) => failures.has(one)).length;
          const exposedSound = exposed.length - exposedFailed;
          const unexposedFailed = failures.size - exposedFailed;
          expect(group.table).toEqual({
            exposedFailed,
            exposedSound,
            unexposedFailed,
            unexposedSound: size - exposed.length - unexposedFailed,
          });
          const key = exposed.join(' ');
          together.set(key, [...(together.get(key) ?? []), candidate.name]);
        }
        const names = (lists: Iterable<string[]>): string[] => [...lists].map((list) => list.join(' ')).toSorted();
        expect(names(groups.map((group) => group.candidates.map(({ name }) => name)))).toEqual(names(together.values()));
        expect(candidates).toBe(groupOf.size + everywhere.length);
      }),
      { numRuns: 400 },
    );
  });

  test('ranks stand in the order of p, equals share one, and Holm counts groups', () => {
    fc.assert(
      fc.property(questions, (question) => {
        const { groups } = ranking(question);
        for (const [at, group] of groups.entries()) {
          const before = groups[at - 1];
          if (before === undefined) expect(group.adjustedP).toBe(Math.min(1, group.p * groups.length));
          else {
            expect(group.p).toBeGreaterThanOrEqual(before.p);
            expect(group.adjustedP).toBeGreaterThanOrEqual(before.adjustedP);
            expect(group.rank).toBe(group.logP === before.logP ? before.rank : at + 1);
          }
        }
      }),
      { numRuns: 100 },
    );
  });
});
