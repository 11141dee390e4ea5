import type { NonconformanceReport, Part, Person, Signed } from '../../src/server/documents/nonconformance.types.js';
import type { SpanSet } from '../../shared/spans.js';
import { countPieces } from '../../shared/spans.js';

const HASH = '3f9ac01d5b7e48f2a6d1903c7be5524f8a0d16e3c9b74720f5e8d2a1b6c34e97';
const QUALITY: Person = { person: 'quality-1', name: 'Quirin Ashby' };
const INSPECTOR: Person = { person: 'inspector-1', name: 'Ines Marlowe' };
const OPERATOR: Person = { person: 'operator-2', name: null };

const pieces = (lot: string, spans: SpanSet): Part => ({
  lot, item: 'WAX-250', itemName: 'Chain wax, can of 250 g', unit: 'each', spans, quantityMicro: countPieces(spans) * 1_000_000,
}); // prettier-ignore

const wax = (kilograms: number): Part => ({
  lot: 'R26-0311', item: 'WAX-BASE', itemName: 'Wax base', unit: 'kg', spans: null, quantityMicro: kilograms * 1_000_000,
}); // prettier-ignore

const signed = (by: Person, seq: number, meaning: string): Signed => ({ by, at: '2026-03-06T10:14:00.000Z', meaning, seq });

const decision = (disposition: number, kind: string, part: Part): NonconformanceReport['dispositions'][number] => ({
  disposition,
  kind,
  part,
  reason: 'lids can be seated again without harm to the wax',
  adverseEffect: null,
  regradeTo: null,
  concession: null,
  proposedBy: INSPECTOR,
  proposedSeq: 410 + disposition,
  withdrawn: null,
  signatures: [{ ...signed(QUALITY, 420 + disposition, `approves: ${kind} as described`), as: 'quality', broken: false }],
  lacks: [],
  carriedOut: null,
  verifiedBy: null,
  needsVerifying: false,
});

/** A report with everything in it that a report can have. */
export function exampleReport(): NonconformanceReport {
  return {
    plantName: 'Fernhollow Works',
    report: 'NC-0012',
    state: 'reviewed',
    severity: 'critical',
    source: 'Inspection IN-0042',
    requirement: 'DS-4: a closed can holds 0.3 bar for 10 s',
    found: 'Lids lift at the seam; on three cans solvent had leaked into the carton',
    foundBy: INSPECTOR,
    foundAt: '2026-03-05T07:55:00.000Z',
    raisedBy: INSPECTOR,
    raisedAt: '2026-03-05T08:02:00.000Z',
    defects: [
      { defect: 'D-LEAK', name: 'Can leaks at the seam', count: 3 },
      { defect: 'D-DENT', name: 'Dented rim', count: 11 },
    ],
    measured: ['Pressure held 0.18 bar, at least 0.3 bar', 'Seam height 2.9 mm, limits 3.1 to 3.4 mm'],
    affected: [pieces('F26-0031', [[1921, 4800]]), pieces('F26-0032', [[1, 240]]), wax(120.5)],
    judged: [
      { part: pieces('F26-0032', [[1, 240]]), relation: 'same input', affected: true, reason: 'same reel of lids', by: QUALITY, at: '2026-03-05T11:20:00.000Z' },
      { part: pieces('F26-0030', [[1, 4800]]), relation: 'same vessel', affected: false, reason: 'sealed before the head was changed; 80 cans pressed, all held', by: QUALITY, at: '2026-03-05T11:41:00.000Z' },
    ],
    holds: [
      { hold: 'H-0008', lot: 'F26-0031', what: '2 880 pieces: 1 921–4 800', reason: 'affected', placedAt: '2026-03-05T08:40:00.000Z', placedSeq: 402, lifted: null },
      { hold: 'H-0009', lot: 'F26-0032', what: '240 pieces: 1–240', reason: 'affected', placedAt: '2026-03-05T11:20:00.000Z', placedSeq: 406, lifted: { seq: 433, reason: 'reworked and verified' } },
    ],
    consignees: [
      { customer: 'C-001', name: 'Spoke & Sprocket', affectedPieces: 48, shipments: ['S-0101', 'S-0104'], told: [{ at: '2026-03-05T12:00:00.000Z', channel: 'telephone', what: 'set pieces 1 921 to 1 968 aside, do not open', by: 'quality-1' }], answers: [{ at: '2026-03-05T15:30:00.000Z', answer: '46 set aside, 2 sold' }] },
      { customer: 'C-004', name: null, affectedPieces: 12, shipments: ['S-0102'], told: [], answers: [] },
    ],
    review: {
      investigate: { needed: true, reason: 'third leak this year' },
      inform: { needed: true, reason: 'the supplier of the lids is to answer by 20 March' },
    },
    accounts: [
      { lot: 'F26-0031', unit: 'each', numbered: true, affectedMicro: 2880e6, disposedMicro: 2100e6, carriedOutMicro: 1200e6, openMicro: 780e6, openSpans: [[4021, 4800]], tooManyMicro: 0 },
      { lot: 'F26-0032', unit: 'each', numbered: true, affectedMicro: 240e6, disposedMicro: 240e6, carriedOutMicro: 240e6, openMicro: 0, openSpans: [], tooManyMicro: 0 },
      { lot: 'R26-0311', unit: 'kg', numbered: false, affectedMicro: 120.5e6, disposedMicro: 130e6, carriedOutMicro: 0, openMicro: 0, openSpans: null, tooManyMicro: 9.5e6 },
    ],
    addsUp: false,
    dispositions: [
      {
        ...decision(1, 'rework', pieces('F26-0032', [[1, 240]])),
        adverseEffect: 'none found: seam pressed twice on 20 trial cans, all held 0.6 bar',
        carriedOut: { by: OPERATOR, at: '2026-03-07T09:00:00.000Z', seq: 430, note: 'all lids seated again on line 2', run: 'RUN-0044', document: null, opens: 'IN-0051', becomes: null, sorted: null },
        needsVerifying: true,
        verifiedBy: 'IN-0051',
      },
      {
        ...decision(2, 'concession', pieces('F26-0031', [[1921, 2820]])),
        concession: { authority: 'customer', authorisedBy: 'M. Calder, Spoke & Sprocket', reference: 'letter 26/114', until: '2026-06-30' },
        signatures: [
          { ...signed(QUALITY, 422, 'approves: use as is, for trade customers only'), as: 'quality', broken: true },
          { ...signed(OPERATOR, 424, 'takes responsibility for marking every can'), as: 'operator', broken: false },
        ],
        lacks: ['a signature of quality'],
      },
      {
        ...decision(3, 'scrap', pieces('F26-0031', [[2821, 4020]])),
        reason: 'leaking',
        carriedOut: { by: OPERATOR, at: '2026-03-08T09:00:00.000Z', seq: 431, note: 'handed to the licensed carrier', run: null, document: 'waste note 7/26', opens: null, becomes: null, sorted: null },
      },
      { ...decision(4, 'return to supplier', wax(130)), withdrawn: 'the supplier takes back nothing opened', signatures: [] },
    ],
    cause: {
      whys: ['the lid lifts because the seam is low', 'the seam is low because the head was set for thicker lids', 'the head was not set anew because the change of lid was not on the work order'],
      categories: ['method', 'supplier'],
      conclusion: 'A change of lid does not ask for a new setting of the head.',
      by: QUALITY,
      at: '2026-03-06T13:00:00.000Z',
    },
    actions: [
      { action: 1, kind: 'correction', what: 'Seat the lids again', owner: OPERATOR, dueOn: '2026-03-08', done: { at: '2026-03-07T09:00:00.000Z', evidence: 'RUN-0044' } },
      { action: 2, kind: 'corrective', what: 'Work order asks for the thickness of the lid, and the line does not start without it', owner: QUALITY, dueOn: '2026-04-15', done: null },
    ],
    effectiveness: {
      criterion: 'no leak in 400 cans over three changes of lid',
      checkOn: '2026-06-01',
      checked: { effective: false, harm: 'none', evidence: 'one leak in 400', signature: signed(QUALITY, 440, 'checked the action') },
    },
    currency: 'EUR',
    costs: [
      { of: 'disposition 1', kind: 'labour', minor: 48_000, note: 'two people, one shift' },
      { of: 'the report', kind: 'other', minor: 12_550, note: null },
    ],
    signatures: [
      { on: 'containment', signature: signed(QUALITY, 403, 'contains what is affected') },
      { on: 'review', signature: signed(QUALITY, 408, 'reviewed the report and what it needs') },
    ],
    timeline: [
      { seq: 401, at: '2026-03-05T08:02:00.000Z', who: 'inspector-1', what: 'Nonconformance report NC-0012 raised, major, on pieces 1921-4800 of F26-0031: lids lift at the seam' },
      { seq: 402, at: '2026-03-05T08:40:00.000Z', who: 'quality-1', what: 'Hold H-0008 placed on pieces 1921-4800 of F26-0031' },
      { seq: 403, at: '2026-03-05T08:40:00.000Z', who: 'quality-1', what: 'NC-0012 contained by H-0008 (signed by quality-1: contains what is affected)' },
      { seq: 440, at: '2026-06-01T08:00:00.000Z', who: 'quality-1', what: 'Corrective action of NC-0012 found not effective: one leak in 400; harm: none' },
    ],
    files: [
      { sha256: HASH, name: 'seam.heic', mediaType: 'image/heic', bytes: 2_204_118, of: 'what was found', picture: null, notPrinted: 'is of a kind that cannot be set on paper here' },
    ],
    asKnownAt: { seq: 440, at: '2026-06-01T08:00:00.000Z', hash: HASH },
  };
} // prettier-ignore
