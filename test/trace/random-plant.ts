import * as fc from 'fast-check';
import type { OracleLink, OraclePlant } from '../oracle.js';

/*
 * Plants that no plant would run: any lot into any lot, itself included, spans that overlap and do not line up, cycles,
 * links voided later or at once. What holds here holds in Fernhollow Works.
 */

interface RawLink {
  from: number;
  to: number;
  a: number;
  b: number;
  c: number;
  d: number;
  each: boolean;
  mass: number;
  step: number;
  voidedAfter: number | null;
}

const rawLink: fc.Arbitrary<RawLink> = fc.record({
  from: fc.nat(),
  to: fc.nat(),
  a: fc.nat(),
  b: fc.nat(),
  c: fc.nat(),
  d: fc.nat(),
  each: fc.boolean(),
  mass: fc.oneof(fc.constant(0), fc.integer({ min: 1, max: 50 }), fc.constant(1_000_000)),
  step: fc.integer({ min: 0, max: 3 }),
  voidedAfter: fc.option(fc.integer({ min: 0, max: 30 }), { nil: null, freq: 4 }),
});

const spanOf = (pieces: number, a: number, b: number): [number, number] => {
  if (pieces === 0) return [0, 0];
  const [x, y] = [(a % pieces) + 1, (b % pieces) + 1];
  return [Math.min(x, y), Math.max(x, y)];
};

function linkOf(raw: RawLink, pieces: number[], seq: number, ord: number, acyclic: boolean): OracleLink {
  const lots = pieces.length - 1;
  let fromLot = (raw.from % lots) + 1;
  let toLot = (raw.to % lots) + 1;
  if (acyclic && fromLot > toLot) [fromLot, toLot] = [toLot, fromLot];
  if (acyclic && fromLot === toLot) [fromLot, toLot] = fromLot === lots ? [fromLot - 1, toLot] : [fromLot, toLot + 1];
  let [fromFirst, fromLast] = spanOf(pieces[fromLot]!, raw.a, raw.b);
  let [toFirst, toLast] = spanOf(pieces[toLot]!, raw.c, raw.d);
  const each = raw.each && fromFirst > 0 && toFirst > 0;
  if (each) {
    const length = Math.min(fromLast - fromFirst, toLast - toFirst);
    [fromLast, toLast] = [fromFirst + length, toFirst + length];
  }
  const voidedAt = raw.voidedAfter === null ? null : seq + raw.voidedAfter;
  return { seq, ord, fromLot, fromFirst, fromLast, toLot, toFirst, toLast, massMicro: raw.mass, map: each ? 'each' : 'all', voidedAt };
}

/** @param most pieces of a numbered lot at most; above 32 spans are both short and long to the index */
export function randomPlant(options: { lots: number; links: number; most: number; acyclic?: boolean }): fc.Arbitrary<OraclePlant> {
  const lot = fc.oneof(fc.constant(0), fc.integer({ min: 1, max: options.most }));
  return fc
    .tuple(fc.array(lot, { minLength: 2, maxLength: options.lots }), fc.array(rawLink, { maxLength: options.links, size: 'max' }))
    .map(([lots, raws]) => {
      const pieces = [0, ...lots];
      let seq = 1;
      let ord = -1;
      const links = raws.map((raw) => {
        // A step of 0 stays in the entry; of 2 and 3 skips an entry or an ord, as other facts do between links.
        if (raw.step === 1 || raw.step === 3) ord = -1;
        if (raw.step === 1 || raw.step === 3) seq += raw.step === 1 ? 1 : 2;
        ord += raw.step === 2 ? 2 : 1;
        return linkOf(raw, pieces, seq, ord, options.acyclic ?? false);
      });
      return { pieces, links };
    });
}
