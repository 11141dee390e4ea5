import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import { type Change, type Granted, grantKey, spentOf } from './grants.decide.js';

const kg = (kilograms: number): number => kilograms * MICRO;
const on = (seq: number, what: Change['what'], kilograms: number): Change => ({ seq, what, by: kg(kilograms) });
const released: Change = { seq: 1, what: 'released', by: 1 };
const charged = (seq: number, kilograms: number): Change[] => [on(seq, 'onHand', -kilograms), on(seq, 'rework', kilograms)];
const shipped = (seq: number, kilograms: number): Change[] => [on(seq, 'onHand', -kilograms), on(seq, 'other', kilograms)];

const granted = (disposition: number, limit: number, more: Partial<Granted> = {}): Granted => ({
  report: 'NC-0001',
  disposition,
  kind: 'concession',
  limitMicro: kg(limit),
  until: '2026-12-31',
  sinceSeq: 10,
  endedSeq: null,
  ...more,
});

const spent = (changes: readonly Change[], grants: readonly Granted[]): number[] => {
  const by = spentOf(changes, grants);
  return grants.map((grant) => by.get(grantKey(grant))! / MICRO);
};

describe('how much of a bulk lot went under a disposition (NR-31, NR-33)', () => {
  const lot = [released, on(1, 'onHand', 100)];

  it.each<[string, Change[], Granted[], number[]]>([
    ['nothing before it was in force', [...lot, ...shipped(5, 30)], [granted(1, 20)], [0]],
    ['nothing while what is free is enough', [...lot, on(9, 'held', 20), ...shipped(11, 80)], [granted(1, 20)], [0]],
    ['what is more than is free', [...lot, on(9, 'held', 20), ...shipped(11, 85)], [granted(1, 20)], [5]],
    ['entry by entry', [...lot, on(9, 'held', 20), ...shipped(11, 75), ...shipped(12, 15), ...shipped(13, 4)], [granted(1, 20)], [14]],
    ['all of it in quarantine', [on(1, 'onHand', 100), ...shipped(11, 12)], [granted(1, 20)], [12]],
    ['all of it while the whole lot is held', [...lot, { seq: 9, what: 'whole', by: 1 }, ...shipped(11, 12)], [granted(1, 20)], [12]],
    ['never more than its limit', [on(1, 'onHand', 100), ...shipped(11, 50)], [granted(1, 20)], [20]],
    [
      'not back when goods return, which are free then',
      [...lot, on(9, 'held', 100), ...shipped(11, 20), ...shipped(12, -20)],
      [granted(1, 20)],
      [20],
    ],
    [
      'of two the one in force longest first',
      [on(1, 'onHand', 100), ...shipped(11, 25)],
      [granted(1, 20), granted(2, 20, { until: '2027-06-30' })],
      [5, 20],
    ],
    [
      'none of what went before a second one',
      [on(1, 'onHand', 100), ...shipped(11, 15), ...shipped(13, 15)],
      [granted(1, 20), granted(2, 20, { sinceSeq: 12, until: '2027-06-30' })],
      [15, 15],
    ],
    [
      'a rework by its own run',
      [on(1, 'onHand', 100), ...charged(11, 15), ...shipped(12, 3)],
      [granted(1, 20), granted(2, 15, { kind: 'rework', until: null })],
      [3, 15],
    ],
    ['no rework by shipping', [on(1, 'onHand', 100), ...shipped(11, 15)], [granted(1, 15, { kind: 'rework', until: null })], [0]],
    [
      'a rework run beyond what is reworked by the concession',
      [on(1, 'onHand', 100), ...charged(11, 18)],
      [granted(1, 20), granted(2, 15, { kind: 'rework', until: null })],
      [3, 15],
    ],
    [
      'no rework that is carried out',
      [on(1, 'onHand', 100), ...charged(11, 5), ...charged(15, 5)],
      [granted(1, 15, { kind: 'rework', until: null, endedSeq: 12 })],
      [5],
    ],
  ])('counts %s', (_what, changes, grants, expected) => expect(spent(changes, grants)).toEqual(expected));
});
