import type { AffectedWhereabouts, Consignee, ConsigneeLine, RecallReport } from '../../src/server/documents/recall-report.types.js';
import type { SpanSet } from '../../shared/spans.js';
import { countPieces } from '../../shared/spans.js';
import type { RiverNode } from '../../shared/trace-graph.js';

const HASH = '3f9ac01d5b7e48f2a6d1903c7be5524f8a0d16e3c9b74720f5e8d2a1b6c34e97';

const each = (spans: SpanSet) => ({ spans, quantityMicro: countPieces(spans) * 1_000_000, unit: 'each' });

function line(shipment: string, shippedOn: string, lot: string, spans: SpanSet, out: SpanSet = spans): ConsigneeLine {
  return { shipment, shippedOn, lot, ...each(spans), out: { spans: out, quantityMicro: countPieces(out) * 1_000_000 } };
}

function place(
  fate: AffectedWhereabouts['fate'],
  holder: string,
  document: string | null,
  lot: string,
  spans: SpanSet,
): AffectedWhereabouts {
  return { fate, holder, document, lot, ...each(spans) };
}

function bulk(fate: AffectedWhereabouts['fate'], holder: string, lot: string, kilograms: number): AffectedWhereabouts {
  return { fate, holder, document: null, lot, spans: null, quantityMicro: kilograms * 1_000_000, unit: 'kg' };
}

function node(id: string, note: string, layer: RiverNode['layer'], kind: string, kilograms: number, affectedShare: number): RiverNode {
  return { id, label: id, note, layer, kind, quantityMicro: kilograms * 1_000_000, unit: 'kg', affectedShare, at: null };
}

const CONSIGNEES: readonly Consignee[] = [
  {
    code: 'C-021',
    name: 'Brook & Daughters',
    contact: 'Wilhelmina Brook, +00 21 555 0142, recalls@brook.example',
    lines: [line('S-0118', '2026-03-05', 'F-0031', [[1921, 2160]]), line('S-0121', '2026-03-06', 'F-0033', [[1, 300]])],
  },
  {
    code: 'C-014',
    name: 'Larch Cycles',
    contact: 'Ida Marsh, +00 14 555 0107, ida.marsh@larch.example',
    lines: [line('S-0117', '2026-03-05', 'F-0031', [[2161, 3360]], [[2181, 3360]]), line('S-0122', '2026-03-06', 'F-0032', [[1, 690]])],
  },
];

/** A recall of Fernhollow Works that is small enough to be read, and in which everything adds up. */
export function exampleRecall(): RecallReport {
  return {
    plantName: 'Fernhollow Works',
    recall: {
      number: 'RC-0007',
      drill: false,
      status: 'open',
      title: 'Chain wax: rust inhibitor below strength',
      what: 'Rust inhibitor lot R-0311 has less active substance than its certificate says. Chain wax made with it protects less than the label promises.',
      why: 'A retained sample of batch B-0418 failed the salt fog test on 5 March; the supplier confirmed a dosing fault on the same day.',
      hazard:
        'Chains may rust and, after long neglect, break under load. No injury is known. Riders who rely on winter protection are most exposed.',
      class: 'II, assigned 5 Mar 2026 by A. Quist',
      instruction:
        'Stop selling and using the cans listed, keep them apart, pass this on to those you sold them to, and tell us how many you hold.',
      contact: 'A. Quist, quality, +00 10 555 0100, quality@fernhollow.example',
      origin: 'forward from lot R-0311',
      openedBy: 'A. Quist, recall lead',
      openedAt: '2026-03-05T09:14:00.000Z',
    },
    asKnownAt: { seq: 8812, at: '2026-03-05T09:14:00.000Z', hash: HASH },
    madeAt: '2026-03-05T09:20:31.000Z',
    amounts: [
      {
        unit: 'pieces',
        totalMicro: 5_660_000_000,
        madeFrom: '2026-03-03',
        madeUntil: '2026-03-04',
        distributedMicro: 2_430_000_000,
        distributedFrom: '2026-03-05',
        distributedUntil: '2026-03-06',
        onHandMicro: 3_218_000_000,
        onHandStoppedMicro: 3_198_000_000,
        inMarketMicro: 2_410_000_000,
      },
    ],
    products: [
      {
        item: 'CW-250',
        name: 'Chain wax 250 g',
        gtin: '04012345000016',
        lot: 'F-0031',
        madeOn: '2026-03-03',
        expiresOn: '2028-03-03',
        marks: 'cans 1 921 to 4 800',
      },
      {
        item: 'CW-250',
        name: 'Chain wax 250 g',
        gtin: '04012345000016',
        lot: 'F-0032',
        madeOn: '2026-03-04',
        expiresOn: '2028-03-04',
        marks: null,
      },
      {
        item: 'CW-500',
        name: 'Chain wax 500 g',
        gtin: '04012345000023',
        lot: 'F-0033',
        madeOn: '2026-03-04',
        expiresOn: '2028-03-04',
        marks: null,
      },
    ],
    scopes: {
      chosen: 'narrow',
      narrow: { lots: 6, pieces: 5660, bulk: [{ unit: 'kg', quantityMicro: 1_695_000_000 }], consignees: 2 },
      conservative: { lots: 6, pieces: 7580, bulk: [{ unit: 'kg', quantityMicro: 1_695_000_000 }], consignees: 3 },
    },
    narrowings: [
      {
        lot: 'F-0031',
        piecesOfLot: 4800,
        spans: [[1921, 4800]],
        evidence: [
          'Changeover at piece 1 921: batch B-0418 follows B-0417 (entry 8 604, line 2)',
          'Net weight log of line 2 shows the empty vessel at the same piece',
        ],
      },
    ],
    ...exampleLots(),
    ...exampleFlow(),
    ...exampleStory(),
  };
}

function exampleLots(): Pick<RecallReport, 'affectedLots' | 'consignees' | 'whereabouts' | 'differences'> {
  const cans = { unit: 'each', shares: [], status: 'held' } as const;
  const kg = { unit: 'kg', spans: null, piecesOfLot: 0 } as const;
  return {
    consignees: CONSIGNEES,
    affectedLots: [
      {
        lot: 'R-0311',
        item: 'RI-20',
        itemName: 'Rust inhibitor',
        run: null,
        status: 'not accepted',
        depth: 0,
        ...kg,
        affectedMicro: 40_000_000,
        quantityMicro: 40_000_000,
        shares: [{ spans: null, fraction: 1 }],
      },
      {
        lot: 'B-0418',
        item: 'CW-MIX',
        itemName: 'Chain wax, mixed',
        run: 'M-0418',
        status: 'held',
        depth: 1,
        ...kg,
        affectedMicro: 830_000_000,
        quantityMicro: 830_000_000,
        shares: [{ spans: null, fraction: 0.0482 }],
      },
      {
        lot: 'B-0419',
        item: 'CW-MIX',
        itemName: 'Chain wax, mixed',
        run: 'M-0419',
        status: 'held',
        depth: 2,
        ...kg,
        affectedMicro: 825_000_000,
        quantityMicro: 825_000_000,
        shares: [{ spans: null, fraction: 0.00163 }],
      },
      {
        lot: 'F-0031',
        item: 'CW-250',
        itemName: 'Chain wax 250 g',
        run: 'FL-0031',
        depth: 2,
        ...cans,
        spans: [[1921, 4800]],
        piecesOfLot: 4800,
        affectedMicro: 2_880_000_000,
        quantityMicro: 4_800_000_000,
        shares: [{ spans: [[1921, 4800]], fraction: 0.0482 }],
      },
      {
        lot: 'F-0032',
        item: 'CW-250',
        itemName: 'Chain wax 250 g',
        run: 'FL-0032',
        depth: 2,
        ...cans,
        spans: [[1, 1960]],
        piecesOfLot: 1960,
        affectedMicro: 1_960_000_000,
        quantityMicro: 1_960_000_000,
        shares: [
          { spans: [[1, 360]], fraction: 0.0482 },
          { spans: [[361, 1960]], fraction: 0.00163 },
        ],
      },
      {
        lot: 'F-0033',
        item: 'CW-500',
        itemName: 'Chain wax 500 g',
        run: 'FL-0033',
        depth: 3,
        ...cans,
        spans: [[1, 820]],
        piecesOfLot: 820,
        affectedMicro: 820_000_000,
        quantityMicro: 820_000_000,
        shares: [{ spans: null, fraction: 0.00163 }],
      },
    ],
    whereabouts: [
      bulk('consumed', 'M-0418, mixing in vessel V-2', 'R-0311', 40),
      bulk('consumed', 'FL-0031, FL-0032 on line 2; heel into M-0419', 'B-0418', 829.4),
      bulk('destroyed in test', 'laboratory', 'B-0418', 0.6),
      bulk('consumed', 'FL-0032, FL-0033 on line 2', 'B-0419', 810),
      bulk('on hand', 'vessel V-2', 'B-0419', 15),
      place('dispatched', 'C-021 Brook & Daughters', 'S-0118', 'F-0031', [[1921, 2160]]),
      place('dispatched', 'C-021 Brook & Daughters', 'S-0121', 'F-0033', [[1, 300]]),
      place('dispatched', 'C-014 Larch Cycles', 'S-0117', 'F-0031', [[2181, 3360]]),
      place('dispatched', 'C-014 Larch Cycles', 'S-0122', 'F-0032', [[1, 690]]),
      place('on hand', 'Returns bay', 'RT-0009', 'F-0031', [[2161, 2180]]),
      place('on hand', 'Bay 4', null, 'F-0031', [[3361, 4776]]),
      place('retained', 'Sample store', null, 'F-0031', [[4777, 4800]]),
      place('on hand', 'Bay 4', null, 'F-0032', [[691, 1960]]),
      place('on hand', 'Bay 5', null, 'F-0033', [[301, 812]]),
      place('scrapped', 'Scale of line 2', null, 'F-0033', [[813, 820]]),
    ],
    differences: [],
  };
}

function exampleFlow(): Pick<RecallReport, 'river' | 'ribbons' | 'inProcess'> {
  const links: [string, string, number, boolean][] = [
    ['R-0311', 'B-0418', 40, true], ['R-0298', 'B-0417', 620, false], ['R-0298', 'B-0418', 590, false], ['R-0298', 'B-0419', 610, false],
    ['R-0305', 'B-0417', 210, false], ['R-0305', 'B-0418', 200, false], ['R-0305', 'B-0419', 205, false], ['B-0418', 'B-0419', 28, true],
    ['B-0417', 'F-0031', 480, false], ['B-0418', 'F-0031', 720, true], ['B-0418', 'F-0032', 90, true], ['B-0419', 'F-0032', 400, true],
    ['B-0419', 'F-0033', 410, true], ['F-0031', 'C-014', 295, true], ['F-0031', 'C-021', 60, true], ['F-0031', 'C-003', 480, false],
    ['F-0031', 'On hand', 359, true], ['F-0031', 'Retained', 6, true], ['F-0032', 'C-014', 172, true], ['F-0032', 'On hand', 318, true],
    ['F-0033', 'C-021', 150, true], ['F-0033', 'On hand', 256, true], ['F-0033', 'Scrapped', 4, true],
  ]; // prettier-ignore
  return {
    inProcess: [
      {
        run: 'M-0420',
        kind: 'mixing',
        place: 'vessel V-2',
        startedAt: '2026-03-05T06:40:00.000Z',
        took: [{ lot: 'B-0419', spans: null, quantityMicro: 15_000_000, unit: 'kg' }],
      },
    ],
    river: {
      nodes: [
        node('R-0311', 'Rust inhibitor', 'supplier-lot', 'raw-material', 40, 1),
        node('R-0298', 'Wax base', 'supplier-lot', 'raw-material', 1820, 0),
        node('R-0305', 'Solvent', 'supplier-lot', 'raw-material', 615, 0),
        node('B-0417', 'Batch', 'batch', 'mixture', 830, 0),
        node('B-0418', 'Batch · 4.8 %', 'batch', 'mixture', 830, 1),
        node('B-0419', 'Batch, by heel · 0.16 %', 'batch', 'mixture', 825, 1),
        node('F-0031', '250 g · 2 880 of 4 800', 'lot', 'filled', 1200, 0.6),
        node('F-0032', '250 g · 1 960 of 1 960', 'lot', 'filled', 490, 1),
        node('F-0033', '500 g · 820 of 820', 'lot', 'filled', 410, 1),
        node('C-014', 'Larch Cycles · 1 870 pieces', 'customer', 'customer', 467, 1),
        node('C-021', 'Brook & Daughters · 540 pieces', 'customer', 'customer', 210, 1),
        node('C-003', 'Hill Wheelers', 'customer', 'customer', 480, 0),
        node('On hand', 'bays 4, 5, returns · 3 218', 'whereabouts', 'on hand', 933, 1),
        node('Retained', '24 pieces', 'whereabouts', 'retained', 6, 1),
        node('Scrapped', '8 pieces', 'whereabouts', 'scrapped', 4, 1),
      ],
      links: links.map(([source, target, value, affected]) => ({ source, target, value, affected })),
    },
    ribbons: [
      {
        lot: 'F-0031',
        itemName: 'Chain wax 250 g',
        note: 'Filled 3 Mar 2026 on line 2 from B-0417 and B-0418.',
        ribbon: {
          pieces: 4800,
          affected: [[1921, 4800]],
          above: [
            {
              label: 'Whereabouts',
              parts: [
                { label: 'C-003 Hill Wheelers', kind: 'customer', spans: [[1, 1920]] },
                { label: 'C-021 Brook & Daughters', kind: 'customer', spans: [[1921, 2160]], affected: true },
                { label: 'Returns bay', kind: 'on-hand', spans: [[2161, 2180]], affected: true },
                { label: 'C-014 Larch Cycles', kind: 'customer', spans: [[2181, 3360]], affected: true },
                { label: 'on hand, bay 4', kind: 'on-hand', spans: [[3361, 4776]], affected: true },
                { label: 'Sample store', kind: 'retain', spans: [[4777, 4800]], affected: true },
              ],
            },
            { label: 'Held', parts: [{ label: 'HOLD-007 rust inhibitor, R-0311', kind: 'held', spans: [[1921, 4800]] }] },
          ],
          below: [
            {
              label: 'Batch',
              parts: [
                { label: 'B-0417', kind: 'input', spans: [[1, 1920]] },
                { label: 'B-0418', kind: 'input', spans: [[1921, 4800]], affected: true },
              ],
            },
            {
              label: 'Can bodies',
              parts: [
                { label: 'P-1188', kind: 'input', spans: [[1, 2600]] },
                { label: 'P-1192', kind: 'input', spans: [[2601, 4800]] },
              ],
            },
            { label: 'Lids', parts: [{ label: 'P-1170', kind: 'input', spans: [[1, 4800]] }] },
            {
              label: 'Labels',
              parts: [
                { label: 'P-1201', kind: 'input', spans: [[1, 900]] },
                { label: 'P-1202', kind: 'input', spans: [[901, 3100]] },
                { label: 'P-1203', kind: 'input', spans: [[3101, 4800]] },
              ],
            },
          ],
        },
      },
    ],
  };
}

function exampleStory(): Pick<RecallReport, 'timeline' | 'decisions' | 'cautions'> {
  return {
    timeline: [
      { seq: 8601, at: '2026-03-03T13:05:00.000Z', who: 'T. Alder, line 2', what: 'Filling FL-0031 begun from batch B-0417.' },
      {
        seq: 8604,
        at: '2026-03-03T15:40:00.000Z',
        who: 'T. Alder, line 2',
        what: 'Changeover at piece 1 921: batch B-0418 follows B-0417.',
      },
      {
        seq: 8790,
        at: '2026-03-05T07:55:00.000Z',
        who: 'M. Oyelaran, quality',
        what: 'Lot F-0031 released for dispatch after 9 tests, all within limits.',
      },
      {
        seq: 8809,
        at: '2026-03-05T09:12:00.000Z',
        who: 'A. Quist, quality',
        what: 'Held pieces 1 921–4 800 of F-0031 and all made from lot R-0311: rust inhibitor below strength.',
      },
      {
        seq: 8812,
        at: '2026-03-05T09:14:00.000Z',
        who: 'A. Quist, recall lead',
        what: 'Recall RC-0007 opened from a trace forward of lot R-0311.',
      },
    ],
    decisions: [
      {
        seq: 8809,
        at: '2026-03-05T09:12:00.000Z',
        who: 'A. Quist, quality',
        what: 'Hold HOLD-007 placed, reaching everything made from R-0311.',
        meaning: 'nothing under this hold may be charged or dispatched until it is lifted',
      },
      {
        seq: 8812,
        at: '2026-03-05T09:14:00.000Z',
        who: 'A. Quist, recall lead',
        what: 'The narrow scope is followed.',
        meaning: 'I have read both scopes and the evidence, and answer for calling back the narrower one',
      },
    ],
    cautions: ['Old wax and solvent are flammable: collected cans are stored as the safety data sheet of CW-250 says.'],
  };
}

/** The same recall grown to many consignees with one shipment each, as a wholesaler's list would be. */
export function manyConsignees(count: number): RecallReport {
  const base = exampleRecall();
  const consignees: Consignee[] = [];
  const whereabouts: AffectedWhereabouts[] = [];
  const lot = 'F-9001';
  for (let i = 1; i <= count; i += 1) {
    const code = `C-${`${i}`.padStart(5, '0')}`;
    const spans: SpanSet = [[(i - 1) * 24 + 1, i * 24]];
    const name = `${NAMES[i % NAMES.length]} ${TOWNS[(i * 7) % TOWNS.length]}`;
    const contact = `${PEOPLE[(i * 3) % PEOPLE.length]}, +00 ${20 + (i % 70)} 555 ${`${i % 10_000}`.padStart(4, '0')}, recalls@${code.toLowerCase()}.example`;
    consignees.push({ code, name, contact, lines: [line(`S-${`${i}`.padStart(6, '0')}`, '2026-03-06', lot, spans)] });
    whereabouts.push(place('dispatched', `${code} ${name}`, `S-${`${i}`.padStart(6, '0')}`, lot, spans));
  }
  const spans: SpanSet = [[1, count * 24]];
  return {
    ...base,
    scopes: {
      chosen: 'narrow',
      narrow: { lots: 1, pieces: count * 24, bulk: [], consignees: count },
      conservative: { lots: 1, pieces: count * 24, bulk: [], consignees: count },
    },
    narrowings: [],
    consignees,
    whereabouts,
    affectedLots: [
      {
        lot,
        item: 'CW-250',
        itemName: 'Chain wax 250 g',
        run: 'FL-9001',
        status: 'held',
        depth: 2,
        unit: 'each',
        spans,
        piecesOfLot: count * 24,
        affectedMicro: count * 24_000_000,
        quantityMicro: count * 24_000_000,
        shares: [],
      },
    ],
    inProcess: [],
  };
}

const NAMES = [
  'Spoke and Saddle',
  'The Wheelwright',
  'Two Sprockets',
  'Coggins and Sons',
  'Hub of',
  'Freewheel',
  'Ångström Cyklar',
  'Vélo Élan',
];
const TOWNS = ['Harrowmere', 'Lower Tansy', 'Quillbridge', 'Østerlund', 'Saint-Aubrac', 'Marlstone', 'Pebble Cross'];
const PEOPLE = ['Ida Marsh', 'Tom Alder', 'Šárka Nováková', 'Łucja Zielińska', 'Jo Penhallow'];
