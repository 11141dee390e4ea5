import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../shared/quantity.js';
import { closingDeviationsAhead, deviationsAhead } from './ahead.js';
import type { Run, RunCharge, RunStep } from './run.js';
import { mixingNow, nextWant, reached, reachedInWords, wantOf, wantsOf } from './wants.js';

const step = (n: number, item: string, more: Partial<RunStep> = {}): RunStep => ({
  step: n,
  item,
  name: item.toLowerCase(),
  unit: 'kg',
  target: '100',
  low: '98',
  high: '102',
  mixMinutes: 10,
  charged: '0',
  left: '100',
  ...more,
});
const charge = (n: number, of: number, chargedAt: string, quantity = '100') => ({ charge: n, step: of, chargedAt, quantity }) as RunCharge;
const mixingRun = (steps: RunStep[], charges: RunCharge[] = []) =>
  ({ run: 'RUN-1', recipe: 'RCP', bom: null, planned: null, steps, components: [], charges }) as unknown as Run;
const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

describe('what a run wants next', () => {
  const run = mixingRun([step(1, 'WAX', { charged: '99' }), step(2, 'OIL', { charged: '40' }), step(3, 'DYE')]);

  it('is the first step below its tolerance', () => {
    expect(nextWant(run)?.step).toBe(2);
    expect(wantsOf(run).map(reached)).toEqual(['in', 'short', 'none']);
    expect(nextWant(mixingRun([step(1, 'WAX', { charged: '100' })]))).toBeNull();
  });

  it('says in words how far a step is', () => {
    const words = [...wantsOf(run), ...wantsOf(mixingRun([step(1, 'WAX', { charged: '103.5' })]))].map((want) =>
      plain(reachedInWords(want)),
    );
    expect(words).toEqual(['within its tolerance', '58 kg short of the least', 'nothing charged yet', '1.5 kg over the most allowed']);
  });

  it('scales a bill of materials to the planned number', () => {
    const line = { item: 'SEAL', name: 'Seal', unit: 'each', perPiece: '2', trackedBy: 'lot', charged: '30' };
    const building = { ...mixingRun([]), planned: '40', components: [line] } as unknown as Run;
    expect(wantsOf(building)[0]).toMatchObject({ targetMicro: 80 * MICRO, lowMicro: 80 * MICRO, highMicro: null });
    expect(plain(reachedInWords(wantsOf(building)[0]!))).toBe('50 pieces short of the least');
  });

  it('gives a second lot of an item to the step that is still short', () => {
    const twice = mixingRun([step(1, 'OIL', { charged: '100' }), step(2, 'WAX'), step(3, 'OIL')]);
    expect(wantOf(twice, 'OIL')?.step).toBe(3);
    expect(wantOf(twice, 'SOAP')).toBeNull();
  });
});

describe('the shortest mixing time', () => {
  const at = '2026-03-02T10:00:00.000Z';
  const run = mixingRun([step(1, 'WAX', { charged: '100' }), step(2, 'OIL')], [charge(1, 1, at)]);

  it('runs from the instant of the charge that came last', () => {
    expect(mixingNow(run)).toMatchObject({ step: 1, minutes: 10, since: Date.UTC(2026, 2, 2, 10), until: Date.UTC(2026, 2, 2, 10, 10) });
    const later = mixingRun(run.steps, [charge(2, 2, '2026-03-02T10:20:00.000Z'), charge(1, 1, at)]);
    expect(mixingNow(later)?.step).toBe(2);
  });

  it('does not run for what went back', () => {
    expect(mixingNow(mixingRun(run.steps, [charge(1, 1, at, '0')]))).toBeNull();
  });
});

describe('what would be a deviation', () => {
  const at = '2026-03-02T10:04:00.000Z';
  const run = mixingRun([step(1, 'WAX', { charged: '100' }), step(2, 'OIL'), step(3, 'DYE')], [charge(1, 1, '2026-03-02T10:00:00.000Z')]);
  const ahead = (item: string, quantity: number, when = at) =>
    deviationsAhead(run, { item, want: wantOf(run, item), quantityMicro: quantity * MICRO, nowMs: Date.parse(when) });

  it('names the order, the quantity and the time', () => {
    expect(ahead('OIL', 100)).toEqual(['wax has not mixed for its 10 minutes yet']);
    expect(ahead('OIL', 100, '2026-03-02T10:10:00.000Z')).toEqual([]);
    expect(ahead('DYE', 130, '2026-03-02T10:10:00.000Z').map(plain)).toEqual([
      'step 2 (oil) comes first and is short',
      'step 3 would have 130 kg, at most 102 kg are allowed',
    ]);
  });

  it('names what is not in the recipe, and the step that was overtaken', () => {
    expect(ahead('SOAP', 1)).toEqual(['SOAP is not in RCP']);
    const overtaken = mixingRun([step(1, 'WAX', { charged: '50' }), step(2, 'OIL', { charged: '100' })]);
    const found = deviationsAhead(overtaken, {
      item: 'WAX',
      want: wantOf(overtaken, 'WAX'),
      quantityMicro: 50 * MICRO,
      nowMs: Date.parse(at),
    });
    expect(found).toEqual(['step 2 (oil) is charged already, and comes after this one']);
  });

  it('names at closing what is short and what has not mixed', () => {
    expect(closingDeviationsAhead(run, Date.parse(at))).toEqual([
      'step 2 (oil) is short',
      'step 3 (dye) is short',
      'wax has not mixed for its 10 minutes yet',
    ]);
    expect(closingDeviationsAhead(mixingRun([step(1, 'WAX', { charged: '100' })]), 0)).toEqual([]);
  });
});
