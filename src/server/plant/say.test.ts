import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { say, SENTENCES } from './say.js';
import type { PlantFact, Unit } from './stock/effects.facts.js';

const kinds = readdirSync('src/server', { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.facts.ts'))
  .flatMap((file) => [...readFileSync(`src/server/${file}`, 'utf8').matchAll(/readonly kind: ([^;}]+)/g)])
  .flatMap(([, type]) => [...type!.matchAll(/'([A-Z]\w+)'/g)].map(([, kind]) => kind!));
const units = new Map<string, Unit>([
  ['R26-00001', 'kg'],
  ['F26-00003', 'each'],
]);
const known = { unitOf: (lot: string) => units.get(lot) };
const dock = { fate: 'on-hand', at: 'DOCK' } as const;

describe('every kind of fact has a sentence (L-13)', () => {
  it('finds the kinds in the sources', () => expect(kinds.length).toBeGreaterThan(20));
  it.each(kinds)('%s', (kind) => expect(SENTENCES[kind]).toBeTypeOf('function'));
  it('and no sentence is left of a kind that is gone', () =>
    expect(Object.keys(SENTENCES).filter((kind) => !kinds.includes(kind))).toEqual([]));
});

const tell = (fact: object) => say(fact as PlantFact, known);

describe('a fact in plain words', () => {
  it('tells a delivery and its lots', () => {
    const lot = {
      lot: 'R26-00001',
      item: 'WAX-BASE',
      pieces: null,
      unit: 'kg',
      quantityMicro: 100_000_000,
      place: dock,
      status: 'quarantine',
    };
    const fact = { kind: 'DeliveryBooked', v: 1, delivery: 'D-0007', supplier: 'S-014', documentType: 'delivery note', document: '4711' };
    const line = { lot: 'R26-00001', containers: 4, earlier: [], expiredOnArrival: false };
    expect(tell({ ...fact, lines: [line], born: [lot] })).toEqual({
      says: 'Delivery D-0007 from S-014 booked by delivery note 4711: 1 lot, R26-00001',
      effects: ['Lot R26-00001: 100 kg of WAX-BASE, at DOCK, in quarantine'],
    });
    expect(tell({ ...fact, lines: [{ ...line, expiredOnArrival: true }] }).says).toMatch(/; R26-00001 had expired on arrival$/);
  });

  it('tells movements with their unit, pieces as pieces, and links', () => {
    const to = { fate: 'consumed', at: 'RUN-0001' };
    const { effects } = tell({
      kind: 'LinksBroughtOver',
      v: 1,
      import: 'IM-0001',
      moved: [
        { lot: 'R26-00001', spans: null, quantityMicro: 12_500_000, from: dock, to },
        {
          lot: 'F26-00003',
          spans: [
            [5, 17],
            [40, 40],
          ],
          quantityMicro: 14_000_000,
          from: dock,
          to: { fate: 'dispatched', at: 'S-0002' },
        },
      ],
      linked: [
        {
          run: 'RUN-0001',
          links: [{ from: 'R26-00001', fromSpan: null, to: 'F26-00003', toSpan: [1, 40], quantityMicro: 12_500_000, map: 'all' }],
        },
      ],
    });
    expect(effects).toEqual([
      '12.5 kg of R26-00001: at DOCK before, used by RUN-0001 now',
      'pieces 5-17,40 of F26-00003: at DOCK before, dispatched in S-0002 now',
      'RUN-0001: 12.5 kg of R26-00001 went into pieces 1-40 of F26-00003',
    ]);
  });

  it('cuts a long list of effects and says how much is left out', () => {
    const restatused = Array.from({ length: 5000 }, (_, i) => ({ lot: `L-${i}`, spans: null, status: 'released' }));
    const { effects } = tell({ kind: 'LotsBroughtOver', v: 1, import: 'IM-1', born: [], restatused });
    expect(effects).toHaveLength(101);
    expect(effects.at(-1)).toBe('and 4900 more');
  });

  it('tells a kind it does not know by the records it names', () => {
    expect(tell({ kind: 'LotAdmired', v: 1, lot: 'R26-00001', hold: 'H-0001' }).says).toBe('LotAdmired: hold H-0001 and lot R26-00001');
  });
});
