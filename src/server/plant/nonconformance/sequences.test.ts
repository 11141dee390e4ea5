import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import type { Refusal } from '../../../../shared/refusal.js';
import { anything, conceding, ending, play, type Story } from '../../../../test/disposition-stories.js';
import { KILOGRAMS, PIECES, UNTIL, type World } from '../../../../test/disposition-world.js';
import { heldOf, pieceList } from '../../../../test/plain-stock.js';
import type { AffectedPart } from './nonconformance.facts.js';
import type { Disposition, Report } from './report-state.facts.js';

const standing = (report: Report): Disposition[] => report.dispositions.filter((one) => one.withdrawn === null);
const isRework = ({ terms: { kind } }: Disposition): boolean => kind === 'rework' || kind === 'repair';

/** What a disposition settles in the end: of a sorted part only what conforms. */
const settles = (one: Disposition): AffectedPart | null =>
  one.carriedOut?.fact.sorted ? one.carriedOut.fact.sorted.conforming : one.terms.part;
const piecesOf = (one: Disposition): number[] => {
  const part = settles(one);
  return part?.lot === 'F' ? pieceList(part.spans ?? []) : [];
};
const microOf = (one: Disposition): number => {
  const part = settles(one);
  return part?.lot === 'B' ? part.quantityMicro! : 0;
};
const sum = (of: readonly number[]): number => of.reduce((total, one) => total + one, 0);

const RUNS = 250;
const always = (story: fc.Arbitrary<Story>, holds: (story: Story) => void): void => fc.assert(fc.property(story, holds), { numRuns: RUNS });

describe('no sequence of commands', { timeout: 60_000 }, () => {
  it('NC-7: closes a report whose dispositions do not add up, are not done, or not verified', () => {
    let closed = 0;
    always(fc.oneof(anything, ending), (story) => {
      const { report, stock } = play(story, (world) => {
        const now = standing(world.report);
        expect(new Set(now.flatMap(piecesOf)).size, 'a piece has two dispositions').toBe(now.flatMap(piecesOf).length);
        expect(sum(now.map(microOf))).toBeLessThanOrEqual(KILOGRAMS * MICRO);
      });
      if (report.state !== 'closed') return;
      closed += 1;
      const all = standing(report);
      expect(all.flatMap(piecesOf).toSorted((a, b) => a - b)).toEqual(Array.from({ length: PIECES }, (_, i) => i + 1));
      expect(sum(all.map(microOf))).toBe(KILOGRAMS * MICRO);
      expect(all.filter((one) => one.carriedOut === null || (isRework(one) && one.verifiedBy === null))).toEqual([]);
      // Nothing stays held but what is under a concession.
      const marks = all.flatMap((one) => one.carriedOut!.fact.hold ?? []);
      expect(stock.held.map((row) => row.hold).filter((hold) => !marks.includes(hold))).toEqual([]);
    });
    expect(closed).toBeGreaterThan(20);
  });

  it('NC-10, NC-11: verifies reworked pieces on an old result', () => {
    let verified = 0;
    always(fc.oneof(anything, ending), (story) => {
      const world = play(story);
      for (const one of standing(world.report).filter((of) => of.verifiedBy !== null)) {
        verified += 1;
        const by = world.inspections.find((other) => other.inspection === one.verifiedBy)!;
        const run = world.runs.get(`RUN-${one.disposition}`)!;
        expect(by.openedSeq).toBeGreaterThan(run.closedSeq!);
        expect([by.state, by.lot]).toEqual(['decided', run.yields ?? one.terms.part.lot]);
        if (heldOf(world.stock.lots.get(by.lot)!, 'scrapped').quantityMicro === 0) expect(by.verdict).toBe('accepted');
      }
    });
    expect(verified).toBeGreaterThan(20);
  });

  it('NC-10: releases reworked pieces on an old result', () => {
    let released = 0;
    always(fc.oneof(anything, ending), (story) => {
      const world = play(story);
      const reworks = standing(world.report).filter(isRework);
      const runs = reworks.flatMap((one) => world.runs.get(`RUN-${one.disposition}`) ?? []);
      for (const { lot, spans, seq } of world.released) {
        for (const run of runs.filter((one) => one.closedSeq! < seq)) {
          const replaced =
            run.lot === lot ? run.replaced.map((one) => one.piece).filter((piece) => pieceList(spans ?? []).includes(piece)) : [];
          if (run.yields !== lot && replaced.length === 0) continue;
          released += 1;
          const since = world.inspections.filter((by) => by.lot === lot && by.openedSeq > run.closedSeq! && by.verdict === 'accepted');
          const looked = since.flatMap((by) => pieceList(by.spans ?? []));
          expect(since.length).toBeGreaterThan(0);
          expect(replaced.filter((piece) => !looked.includes(piece))).toEqual([]);
        }
      }
    });
    expect(released).toBeGreaterThan(5);
  });

  it('NC-9: ships beyond a concession, in pieces, quantity or time', () => {
    let shipped = 0;
    always(fc.oneof(anything, conceding), (story) => {
      const world = play(story);
      if (world.report.state === 'closed' || world.lifted) return; // what was held may go
      shipped += world.shipped.length;
      const letGo = standing(world.report).filter((one) => one.carriedOut !== null && ['concession', 'sort'].includes(one.terms.kind));
      const reworked = standing(world.report).filter((one) => isRework(one) && one.verifiedBy !== null);
      for (const out of world.shipped.filter((one) => one.lot === 'F')) {
        for (const piece of pieceList(out.spans!)) {
          const by = [...letGo, ...reworked].find((one) => one.carriedOut!.seq < out.seq && piecesOf(one).includes(piece));
          expect(by, `piece ${piece} went out at ${out.seq}`).toBeDefined();
          if (by!.terms.kind === 'concession') expect(out.day).toBeLessThanOrEqual(UNTIL);
        }
      }
      const gone = world.shipped.filter((one) => one.lot === 'B').map((one) => one.quantityMicro);
      // What conforms is let go, and still waits for its release.
      const conceded = letGo.filter((one) => one.terms.kind === 'concession');
      const isReleased = story.status === 'released' || world.released.some((one) => one.lot === 'B');
      expect(sum(gone)).toBeLessThanOrEqual(sum((isReleased ? letGo : conceded).map(microOf)));
      const late = world.shipped.filter((one) => one.lot === 'B' && one.day > UNTIL).map((one) => one.quantityMicro);
      expect(sum(late)).toBeLessThanOrEqual(sum(letGo.filter((one) => one.terms.kind === 'sort').map(microOf)));
    });
    expect(shipped).toBeGreaterThan(300);
  });

  it('NC-8, NC-12, NC-13: lets one person do what needs two, or those who raised or made it decide alone', () => {
    let carried = 0;
    const checkSignatures = (world: World, one: Disposition): void => {
      const { digest } = world.signing().get(one.disposition)!;
      const valid = one.signatures.filter((entry) => entry.fact.digest === digest).map((entry) => entry.fact);
      const people = new Set(valid.map((fact) => fact.signature.by));
      expect(valid.some((fact) => fact.as === 'quality')).toBe(true);
      expect([...people].some((person) => person !== 'raiser' && person !== 'maker')).toBe(true);
      if (one.terms.kind !== 'concession' && one.terms.kind !== 'repair') return;
      expect(people.size).toBeGreaterThan(1);
      expect(new Set(valid.map((fact) => fact.as)).size).toBeGreaterThan(1);
    };
    always(fc.oneof(anything, ending, conceding), (story) => {
      const seen = new Set<number>();
      play(story, (world) => {
        for (const one of standing(world.report).filter((of) => of.carriedOut !== null && !seen.has(of.disposition))) {
          seen.add(one.disposition);
          carried += 1;
          checkSignatures(world, one);
        }
      });
    });
    expect(carried).toBeGreaterThan(100);
  });

  it('NR-2, NR-35: is refused the closing without hearing everything that is not done', () => {
    always(anything, (story) => {
      const world = play(story);
      const { report } = world;
      if (report.state === 'closed' || report.state === 'verified') return;
      let said: readonly { readonly code: string; readonly disposition?: unknown }[] = [];
      try {
        world.close();
      } catch (error) {
        said = (error as Refusal).reasons;
      }
      const about = (code: string) => said.filter((reason) => reason.code === code).map((reason) => reason.disposition);
      const all = standing(report);
      const numbers = (of: readonly Disposition[]) => of.map((one) => one.disposition);
      expect(said.map((reason) => reason.code)).toContain('report-in-other-state');
      expect(about('not-carried-out')).toEqual(numbers(all.filter((one) => one.carriedOut === null)));
      expect(about('not-verified')).toEqual(numbers(all.filter((one) => isRework(one) && one.verifiedBy === null)));
      const openPieces = new Set(all.flatMap(piecesOf)).size < PIECES;
      const openQuantity = sum(all.map(microOf)) < KILOGRAMS * MICRO;
      expect(about('dispositions-open')).toHaveLength(Number(openPieces) + Number(openQuantity));
    });
  });
});
