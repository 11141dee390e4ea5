import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { sharesOf } from '../../src/server/trace/shares.js';
import { traceForward } from '../../src/server/trace/walk.js';
import { type OracleOrigin, type OraclePlant, oracleShares } from '../oracle.js';
import { originsOf } from './answers.js';
import { indexOf, lastSeq } from './index-of-plant.js';
import { randomPlant } from './random-plant.js';

const pieceKey = (lot: number, piece: number): string => `${lot}/${piece}`;

/** Every piece's share as the index answers it, 0 where none arrives; a lot's mean under piece 'mean', null where nothing blends. */
function found(plant: OraclePlant, origins: OracleOrigin[], asKnownAt: number, packed: number): Map<string, number | null> {
  const genealogy = indexOf(plant, packed);
  const traced = traceForward(genealogy, originsOf(origins), { asKnownAt });
  const { byLot, unsettled } = sharesOf(genealogy, traced, originsOf(origins));
  expect(unsettled).toEqual([]);
  const all = new Map<string, number | null>();
  for (const { lot, share, shares } of byLot.values()) {
    all.set(`${lot}/mean`, share);
    for (const [first, last, part] of shares ?? []) for (let piece = first; piece <= last; piece++) all.set(pieceKey(lot, piece), part);
  }
  return all;
}

function exact(plant: OraclePlant, origins: OracleOrigin[], asKnownAt: number): Map<string, number | null> {
  const all = new Map<string, number | null>();
  for (const [lot, byPiece] of oracleShares(plant, origins, asKnownAt)) {
    const touched = [...byPiece.values()].some((share) => share !== null);
    const sum = [...byPiece.values()].reduce<number>((total, share) => total + (share ?? 0), 0);
    all.set(`${lot}/mean`, touched ? sum / byPiece.size : null);
    if (touched && plant.pieces[lot]! > 0) for (const [piece, share] of byPiece) all.set(pieceKey(lot, piece), share ?? 0);
  }
  return all;
}

/** What differs by more than `within`, relatively; empty when the answers agree. */
function differences(answer: Map<string, number | null>, right: Map<string, number | null>, within: number): string[] {
  const keys = new Set([...answer.keys(), ...right.keys()]);
  return [...keys].flatMap((key) => {
    const [share, expected] = [answer.get(key), right.get(key)];
    if (typeof share === 'number' && typeof expected === 'number' && Math.abs(share - expected) <= within * expected) return [];
    return share === expected ? [] : [`${key}: ${share} instead of ${expected}`];
  });
}

// The oracle is exact and the index counts in 64-bit floats: out by some units in the last place, with cycles by a few more.
test.each([
  ['without cycles', randomPlant({ lots: 7, links: 14, most: 5, acyclic: true }), 1e-13],
  ['with cycles', randomPlant({ lots: 5, links: 14, most: 4 }), 1e-11],
])('shares equal the exact solution piece by piece, %s', (_name, plants, within) => {
  fc.assert(
    fc.property(plants, fc.nat(), fc.nat(), fc.boolean(), (plant, pick, seen, whole) => {
      const lot = (pick % (plant.pieces.length - 1)) + 1;
      const pieces = plant.pieces[lot]!;
      const origins = [{ lot, pieces: whole || pieces === 0 ? null : [(seen % pieces) + 1] }];
      for (const asKnownAt of [lastSeq(plant), seen % (lastSeq(plant) + 1)]) {
        const answer = found(plant, origins, asKnownAt, seen % (plant.links.length + 1));
        expect(differences(answer, exact(plant, origins, asKnownAt), within)).toEqual([]);
      }
    }),
    { numRuns: 250 },
  );
});
