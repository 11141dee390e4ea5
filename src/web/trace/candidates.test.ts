import { expect, test } from 'vitest';
import { candidatesOf, type Found, onlyOne } from './candidates.js';

const found = (kind: Found['kind'], code: string, more: Partial<Found> = {}): Found => ({
  kind,
  code,
  of: null,
  lot: null,
  supplier: null,
  piece: null,
  says: '',
  exact: true,
  ...more,
});

test('each kind of thing starts a trace in its own way, or leads on', () => {
  const origins = candidatesOf([
    found('item', 'WAX'),
    found('lot', 'B-1'),
    found('serial', 'K-1', { lot: 'U-1', piece: 7 }),
    found('supplier-lot', '007', { supplier: 'S' }),
    found('delivery', 'D-1'),
    found('report', 'NC-1'),
    found('line', 'L1'),
  ]);
  expect(origins.map(({ found: { code }, origin, instead }) => [code, origin, instead?.href])).toEqual([
    ['B-1', { lot: 'B-1' }, undefined],
    ['K-1', { lot: 'U-1', pieces: '7' }, undefined],
    ['007', { supplierLot: '007', supplier: 'S' }, undefined],
    ['D-1', { run: 'D-1' }, undefined],
    ['WAX', null, '/lots?item=WAX'],
    ['NC-1', null, '/trace/suspects?report=NC-1'],
    ['L1', null, '/trace?line=L1'],
  ]);
});

test('only what was surely meant is gone to at once', () => {
  expect(onlyOne(candidatesOf([found('lot', 'B-1'), found('lot', 'B-10', { exact: false }), found('item', 'B-1')]))).toEqual({
    lot: 'B-1',
  });
  expect(onlyOne(candidatesOf([found('lot', 'X'), found('run', 'X')]))).toBeNull();
  expect(onlyOne(candidatesOf([found('lot', 'X', { exact: false })]))).toBeNull();
});
