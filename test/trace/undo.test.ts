import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { Genealogy, type Mark } from '../../src/server/trace/genealogy.js';
import { packSnapshot, unpackSnapshot } from '../../src/server/trace/snapshot.js';
import { traceBackward, traceForward } from '../../src/server/trace/walk.js';
import { oracleTrace, type OracleLink, type OraclePlant } from '../oracle.js';
import { answerOfIndex, answerOfOracle } from './answers.js';
import { linkFor } from './index-of-plant.js';
import { randomPlant } from './random-plant.js';

type Step = 'link' | 'next entry' | 'void' | 'mark' | 'roll back' | 'commit' | 'compact' | 'snapshot';

const steps = fc.array(
  fc.record({
    step: fc.oneof(
      { weight: 6, arbitrary: fc.constant<Step>('link') },
      { weight: 2, arbitrary: fc.constant<Step>('void') },
      { weight: 3, arbitrary: fc.constantFrom<Step>('mark', 'roll back', 'next entry') },
      { weight: 1, arbitrary: fc.constantFrom<Step>('commit', 'compact', 'snapshot') },
    ),
    pick: fc.nat(),
  }),
  { maxLength: 80, size: 'max' },
);

/** A ledger kept the plain way beside the index: copies of arrays instead of marks. */
class Twin {
  genealogy = new Genealogy();
  links: OracleLink[] = [];
  seq = 1;
  committed = 0;
  marks: { mark: Mark; seq: number; links: OracleLink[] }[] = [];
  #supply: OracleLink[];

  constructor(readonly plant: OraclePlant) {
    this.#supply = [...plant.links];
    for (let lot = 1; lot < plant.pieces.length; lot++) this.genealogy.addLot(lot, plant.pieces[lot]!);
  }

  take(step: Step, pick: number): void {
    if (step === 'link') this.#link(pick);
    if (step === 'next entry') this.seq++;
    if (step === 'void') this.#void(pick);
    if (step === 'mark') this.marks.push({ mark: this.genealogy.mark(), seq: this.seq, links: this.links.map((link) => ({ ...link })) });
    if (step === 'roll back' && this.marks.length > 0) this.#rollBack(pick);
    if (step === 'commit' || step === 'snapshot') {
      this.committed = this.seq++;
      this.genealogy.commitUpTo(this.committed);
      this.marks = [];
    }
    if (step === 'compact') this.genealogy.compact();
    if (step === 'snapshot') {
      this.genealogy = unpackSnapshot(packSnapshot(this.genealogy, 'ab'), { seq: this.committed, hash: 'ab' });
    }
  }

  #link(pick: number): void {
    const next = this.#supply.shift();
    if (!next) return;
    const used = this.links.filter(({ seq }) => seq === this.seq).map(({ ord }) => ord);
    const link = { ...next, seq: this.seq, ord: Math.max(-1, ...used) + 1 + (pick % 2), voidedAt: null };
    this.links.push(link);
    this.genealogy.append(linkFor(link));
  }

  #void(pick: number): void {
    const live = this.links.filter(({ voidedAt }) => voidedAt === null);
    const link = live[pick % (live.length || 1)];
    if (!link) return;
    link.voidedAt = this.seq;
    this.genealogy.voidLink(link.seq, link.ord, this.seq);
  }

  #rollBack(pick: number): void {
    this.marks.length = (pick % this.marks.length) + 1;
    const { mark, seq, links } = this.marks.pop()!;
    this.genealogy.rollbackTo(mark);
    this.links = links;
    this.seq = seq;
  }
}

test('whatever is appended, voided, rolled back, committed, compacted and restored, readers and the writer see what they should', () => {
  fc.assert(
    fc.property(randomPlant({ lots: 5, links: 60, most: 40 }), steps, fc.nat(), (plant, sequence, past) => {
      const twin = new Twin(plant);
      for (const { step, pick } of sequence) twin.take(step, pick);
      const { genealogy, links, committed } = twin;
      for (let lot = 1; lot < plant.pieces.length; lot++) {
        const origins = [{ lot, pieces: null }];
        for (const asKnownAt of [undefined, Infinity, past % (committed + 1)]) {
          const known = asKnownAt ?? committed;
          const ask = { asKnownAt };
          const forward = answerOfIndex(traceForward(genealogy, [{ lot, spans: null }], ask.asKnownAt === undefined ? {} : ask));
          const backward = answerOfIndex(traceBackward(genealogy, [{ lot, spans: null }], ask.asKnownAt === undefined ? {} : ask));
          expect(forward).toEqual(answerOfOracle(oracleTrace({ ...plant, links }, 'forward', origins, known)));
          expect(backward).toEqual(answerOfOracle(oracleTrace({ ...plant, links }, 'backward', origins, known)));
        }
        const live = links.filter(({ toLot, voidedAt }) => toLot === lot && voidedAt === null);
        expect(genealogy.linksOf(lot, 'into', Infinity)).toEqual(live.map(linkFor));
      }
    }),
    { numRuns: 300 },
  );
});
