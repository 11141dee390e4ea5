import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Breath } from './breath.js';
import { checkBalance } from './check-balance.js';
import { checkLinks, checkShipmentLines } from './check-links.js';
import { Faults } from './faults.js';
import { Folder } from './folder.js';
import type { PlantState } from './import.query.js';
import { KnownLots } from './known-lots.js';
import { itemRows } from './read-catalogue-rows.js';
import { lotRows } from './read-lot-rows.js';
import { linkRows, shipmentRows } from './read-use-rows.js';
import { Uses } from './uses.js';

const NOTHING: PlantState = {
  at: '2026-03-02T08:00:00.000Z',
  items: new Map(),
  parties: new Map(),
  place: undefined,
  lots: new Map(),
  lotsTaken: new Set(),
  runsTaken: new Set(),
  shipmentsTaken: new Set(),
};

/** Numbered lot F of 100 cans, bulk lot W of 10 kg; takings as `run first-last`, `ship first-last`, `run kg`. */
async function faultsOf(takings: readonly string[]) {
  const folder = new Folder();
  const faults = new Faults();
  const item = itemRows(folder, faults);
  item(['WAX', 'Wax', 'raw-material', 'kg', '', '', ''], 2);
  item(['CAN', 'Can of wax', 'filled', 'each', '', '', ''], 3);
  const lot = lotRows(folder, faults);
  lot(['W', 'WAX', '10', '', 'received', '2026-01-01T00:00:00Z', '', '', '', 'released'], 2);
  lot(['F', 'CAN', '', '100', 'made', '2026-01-01T00:00:00Z', '', '', '', 'released'], 3);
  lot(['X', 'CAN', '', '100', 'made', '2026-01-03T00:00:00Z', '', '', '', 'released'], 4);
  const link = linkRows(folder, faults);
  const ship = shipmentRows(folder, faults);
  takings.forEach((text, i) => {
    const [taker, what] = text.split(' ') as [string, string];
    const [first, last] = what.includes('-') ? what.split('-') : ['', ''];
    const of = first === '' ? 'W' : 'F';
    const quantity = first === '' ? what : '';
    if (taker.startsWith('S')) ship([taker, 'C-1', '2026-01-02T00:00:00Z', of, first!, last!, quantity], i + 2);
    else link([taker, 'repacking', '2026-01-02T00:00:00Z', of, first!, last!, 'X', '', '', quantity, 'all'], i + 2);
  });
  const lots = new KnownLots(folder, NOTHING);
  await checkLinks(lots, NOTHING, faults, new Breath(), () => undefined);
  await checkShipmentLines(lots, faults, new Breath());
  await checkBalance(lots, await Uses.of(folder, new Breath()), faults, new Breath());
  return faults.listed.map(({ line, code, detail }) => [line, code, detail]);
}

describe('I-10 nothing is taken that is not there', () => {
  it('takes a bulk lot to the last millionth and no further', async () => {
    expect(await faultsOf(['R1 4', 'R2 5.999999', 'S1 0.000001'])).toEqual([]);
    expect(await faultsOf(['R1 4', 'R2 5.999999', 'S1 0.000002'])).toEqual([
      [4, 'not-enough-left', 'W has 0.000001 kg left of 10, and more is taken'],
    ]);
  });

  it('takes neighbouring pieces, and the same pieces twice only within one run', async () => {
    expect(await faultsOf(['R1 1-10', 'R2 11-20', 'S1 21-100'])).toEqual([]);
    expect(await faultsOf(['R1 1-10', 'R1 5-20', 'R1 1-10'])).toEqual([]);
  });

  it('finds pieces taken twice, and says by what', async () => {
    expect(await faultsOf(['R1 1-10', 'R2 10-20'])).toEqual([
      [3, 'taken-twice', 'pieces 10 of F went into run R1 (links.csv line 2) already'],
    ]);
    expect(await faultsOf(['S1 1-10', 'S1 10-12'])).toEqual([
      [3, 'taken-twice', 'pieces 10 of F went with shipment S1 (shipments.csv line 2) already'],
    ]);
  });

  it('finds an overlap exactly when there is one', async () => {
    const taking = fc.tuple(fc.constantFrom('R1', 'R2', 'S1'), fc.integer({ min: 1, max: 100 }), fc.integer({ min: 0, max: 20 }));
    await fc.assert(
      fc.asyncProperty(fc.array(taking, { maxLength: 8 }), async (some) => {
        const spans = some.map(([taker, first, more], i) => ({
          taker: taker === 'S1' ? `S${i}` : taker,
          first,
          last: Math.min(100, first + more),
        }));
        const faults = await faultsOf(spans.map(({ taker, first, last }) => `${taker.startsWith('S') ? 'S1' : taker} ${first}-${last}`));
        const owner = new Map<number, string>();
        let twice = false;
        for (const { taker, first, last } of spans) {
          for (let piece = first; piece <= last; piece++) {
            twice ||= (owner.get(piece) ?? taker) !== taker;
            owner.set(piece, taker);
          }
        }
        expect(faults.length > 0).toBe(twice);
      }),
      { numRuns: 300 },
    );
  });
});
