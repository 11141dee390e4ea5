import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseQuantity } from '../quantity.js';
import { computeResult } from './compute-result.js';
import { MeasurementFault } from './measurement-fault.js';
import { METHOD_KINDS, readRows, rowColumns, type Method, type TextRow } from './method.js';
import type { Rounding } from './rounding.js';

const twoDecimals: Rounding = { decimals: 2, rule: 'half-even' };
const values = (...texts: string[]): TextRow[] => texts.map((value) => ({ value }));

function compute(method: Method, lines: readonly TextRow[], rounding = twoDecimals, replicates?: number) {
  const { rows, faults } = readRows(method, lines);
  expect(faults).toEqual([]);
  return computeResult(method, rows, { rounding, replicates });
}
const figuresOf = (computed: { figures: readonly { name: string; value: string }[] }) =>
  Object.fromEntries(computed.figures.map(({ name, value }) => [name, value]));

test('a single reading is rounded and shown as read', () => {
  const result = compute({ kind: 'single' }, values('7.125'));
  expect(result.valueMicro).toBe(7_120_000);
  expect(result.inputs).toEqual([{ value: '7.125' }]);
  expect(figuresOf(result)).toEqual({ reading: '7.125' });
});

test('a mean of replicates carries its range and is rounded once', () => {
  const result = compute({ kind: 'mean' }, values('10.01', '10.02', '10.045'), { decimals: 3, rule: 'half-up' });
  expect(result.valueMicro).toBe(10_025_000);
  expect(figuresOf(result)).toEqual({
    count: '3',
    mean: '10.025',
    smallest: '10.01',
    largest: '10.045',
    range: '0.035',
    s: '0.018028', // √(0.000 325) = 0.018 027 756…
  });
});

test('a third stays a third until the end', () => {
  expect(compute({ kind: 'mean' }, values('1', '0', '0'), { decimals: 6, rule: 'half-even' }).valueMicro).toBe(333_333);
  expect(compute({ kind: 'mean' }, values('-1', '-1', '0'), { decimals: 6, rule: 'half-even' }).valueMicro).toBe(-666_667);
});

test('a range is largest less smallest, whatever the order', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -1e9, max: 1e9 }), { minLength: 2, maxLength: 12 }), (micro) => {
      const rows = micro.map((value) => ({ value }));
      const exact = { rounding: { decimals: 6, rule: 'half-even' as const } };
      const sorted = micro.toSorted((a, b) => a - b);
      const wide = computeResult({ kind: 'range' }, rows, exact).valueMicro;
      expect(wide).toBe((sorted.at(-1) ?? 0) - (sorted[0] ?? 0));
      expect(computeResult({ kind: 'range' }, rows.toReversed(), exact).valueMicro).toBe(wide);
      const mean = computeResult({ kind: 'mean' }, rows, exact).valueMicro;
      expect(mean).toBeGreaterThanOrEqual(sorted[0] ?? 0);
      expect(mean).toBeLessThanOrEqual(sorted.at(-1) ?? 0);
    }),
  );
});

describe('density', () => {
  const method = (massUnit: 'kg' | 'g', volumeUnit: 'L' | 'mL') => ({ kind: 'density', massUnit, volumeUnit }) as const;

  test.each([
    ['g', 'mL', '92.37', '100', '0.9237'],
    ['kg', 'L', '0.9237', '1', '0.9237'],
    ['kg', 'mL', '0.9237', '1000', '0.9237'],
    ['g', 'L', '923.7', '1', '0.9237'],
  ] as const)('%s and %s give kg/L', (massUnit, volumeUnit, mass, volume, expected) => {
    const result = compute(method(massUnit, volumeUnit), [{ mass, volume }], { decimals: 4, rule: 'half-even' });
    expect(result.valueMicro).toBe(parseQuantity(expected));
    expect(result.unit).toBe('kg/L');
  });

  test('of several pairs is the mean of the ratios, not the ratio of the sums', () => {
    const pairs = [
      { mass: '1', volume: '3' },
      { mass: '2', volume: '3' },
      { mass: '1', volume: '2' },
    ];
    const result = compute(method('g', 'mL'), pairs, { decimals: 6, rule: 'half-even' });
    expect(result.valueMicro).toBe(500_000);
    expect(figuresOf(result)).toEqual({ 'density-1': '0.333333', 'density-2': '0.666667', 'density-3': '0.5' });
  });

  test.each([
    [{ mass: 0, volume: 1 }, '/0/mass'],
    [{ mass: 1, volume: 0 }, '/0/volume'],
    [{ mass: 1, volume: -1 }, '/0/volume'],
    [{ mass: 1 }, '/0/volume'],
  ])('refused: %o', (row, at) => {
    expect(() => computeResult(method('g', 'mL'), [row as never], { rounding: twoDecimals })).toThrow(expect.objectContaining({ at }));
  });
});

test.each([
  ['single', 0],
  ['single', 2],
  ['mean', 0],
  ['range', 1],
] as const)('refused: %s of %i readings', (kind, n) => {
  const rows = Array.from({ length: n }, () => ({ value: 1 }));
  expect(() => computeResult({ kind }, rows, { rounding: twoDecimals })).toThrow(MeasurementFault);
});

test('the characteristic says how many replicates', () => {
  expect(() => compute({ kind: 'mean' }, values('1', '2'), twoDecimals, 3)).toThrow('3 readings are taken, not 2');
  expect(compute({ kind: 'mean' }, values('1', '2', '3'), twoDecimals, 3).valueMicro).toBe(2_000_000);
});

test('lines are read with every fault at once', () => {
  const { faults } = readRows({ kind: 'density', massUnit: 'g', volumeUnit: 'mL' }, [
    { mass: '1,2' },
    { mass: '1', volume: '2', extra: '3' },
  ]);
  expect(faults.map(({ at }) => at)).toEqual(['/0/mass', '/0/volume', '/1/extra']);
  expect(faults[0]?.message).toContain('comma');
});

test('every method says what it reads', () => {
  const methods: Record<Method['kind'], Method> = {
    single: { kind: 'single' },
    mean: { kind: 'mean' },
    range: { kind: 'range' },
    density: { kind: 'density', massUnit: 'g', volumeUnit: 'mL' },
    'colour-difference': { kind: 'colour-difference', standard: { lMicro: 0, aMicro: 0, bMicro: 0 } },
    'net-content': { kind: 'net-content', nominalMicro: 1, unit: 'g', weighed: 'gross-and-tare', rules: { set: 'packer' } },
  };
  expect(METHOD_KINDS.map((kind) => rowColumns(methods[kind]).join())).toEqual([
    'value',
    'value',
    'value',
    'mass,volume',
    'l,a,b',
    'gross,tare',
  ]);
});
