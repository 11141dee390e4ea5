import { describe, expect, it } from 'vitest';
import { startOfSwitching } from '../../../../shared/sampling/switching.js';
import { say } from '../say.js';
import type { PlantFact } from '../stock/effects.facts.js';

const known = { unitOf: () => 'each' as const };
const tell = (fact: object): string => say({ v: 1, inspection: 'IN-0007', ...fact } as unknown as PlantFact, known).says;

const OPENED = {
  kind: 'InspectionOpened',
  lot: 'F-1',
  spans: [[5, 17]],
  occasion: 'run',
  source: 'RUN-0002',
  resubmits: null,
  reason: null,
};
const SIGNATURE = { by: 'quality-1', at: '2026-03-02T08:00:00.000Z', meaning: 'I say so' };
const SAMPLE = {
  edition: 'ISO 2859-1:1999',
  level: 'II',
  type: 'double',
  codeLetter: 'J',
  sizes: [50, 50],
  inspectAllBecause: null,
  classes: [
    { class: 'major', aql: '1.0', severity: 'normal' },
    { class: 'minor', aql: '4.0', severity: 'reduced' },
  ],
};
const start = startOfSwitching();
const switched = [
  { class: 'major', before: start, after: { ...start, severity: 'tightened' } },
  { class: 'minor', before: start, after: start },
];

describe('inspections in plain words (L-13)', () => {
  it.each<[string, object, string]>([
    ['opening', OPENED, 'Inspection IN-0007 of pieces 5-17 of F-1 opened (run RUN-0002)'],
    [
      'presenting again',
      { ...OPENED, spans: null, occasion: 'resubmission', source: null, resubmits: 'IN-0003', reason: 'sorted' },
      'Inspection IN-0007 of F-1 opened (presented again after IN-0003): sorted',
    ],
    ['asking', { ...OPENED, occasion: 'request', source: null }, 'Inspection IN-0007 of pieces 5-17 of F-1 opened (asked for)'],
    [
      'beginning',
      { kind: 'InspectionBegun', sample: SAMPLE },
      'Inspection IN-0007 begun: 50 items, and 50 more where the first do not decide, letter J, level II, double; major at AQL 1.0, normal and minor at AQL 4.0, reduced (ISO 2859-1:1999)',
    ],
    ['beginning tests', { kind: 'InspectionBegun', sample: null }, 'Inspection IN-0007 begun: tests of the lot only'],
    [
      'looking',
      { kind: 'ItemsInspected', tally: 2, sample: 1, conforming: 4, items: [{ found: [{}] }, { found: [] }] },
      'Inspection IN-0007, tally 2: 6 items looked at in the first sample, 1 nonconforming',
    ],
    [
      'a result',
      {
        kind: 'ResultRecorded',
        result: 2,
        lot: 'B-1',
        measured: { characteristic: 'VISC', valueMicro: 899_500_000, unit: 'mPa·s', within: false, fault: 'below 900' },
        retestOf: 1,
        reason: 'bath too warm',
      },
      'Inspection IN-0007, result 2: VISC of B-1 is 899.5 mPa·s, below 900; a retest that follows result 1: bath too warm',
    ],
    [
      'a verdict',
      {
        kind: 'InspectionDecided',
        lot: 'F-1',
        verdict: 'not-accepted',
        stricter: null,
        classes: [
          { verdict: 'not-accepted', because: '3 major in 80, not accepted at 3' },
          { verdict: null, because: '0 minor in 80' },
        ],
        failed: ['VISC: below 900'],
        switched,
      },
      'Inspection IN-0007 does not accept F-1: 3 major in 80, not accepted at 3; VISC: below 900; major inspection is tightened now',
    ],
    [
      'skipping',
      { kind: 'InspectionSkipped', urgentRelease: 'UR-0001', reason: 'a customer waits', signature: SIGNATURE },
      'Inspection IN-0007 skipped under urgent release UR-0001: a customer waits (signed by quality-1: I say so)',
    ],
    [
      'switching',
      {
        kind: 'SwitchingDecided',
        item: 'SEAL',
        supplier: null,
        decision: { about: 'resumption' },
        reason: 'new die',
        switched: [],
        signature: SIGNATURE,
      },
      'Switching of SEAL made here: inspection is resumed: new die (signed by quality-1: I say so)',
    ],
  ])('%s', (_what, fact, words) => expect(tell(fact)).toBe(words));
});
