import { expect, test } from 'vitest';
import { addressOf, csvAddress, hasOrigin, originWords, queryOf, readQuestion, recallOrigin } from './question.js';

const back = (address: string) => readQuestion(address.replace('/trace', ''));

test('the address keeps the question', () => {
  const question = readQuestion(
    '?lot=F-1&pieces=5-17%2C40&lots=B%2C1&lots=B-2&direction=backward&asKnownAt=12&shown=conservative&chosen=lot+F-1',
  );
  expect(question).toMatchObject({
    origin: { lot: 'F-1', pieces: '5-17,40', lots: ['B,1', 'B-2'] },
    direction: 'backward',
    asKnownAt: 12,
    shown: 'conservative',
    chosen: 'lot F-1',
    text: null,
  });
  expect(back(addressOf(question))).toEqual(question);
  expect(addressOf({ origin: { lot: 'F-1' }, direction: 'forward', asKnownAt: null, shown: 'narrow' })).toBe('/trace?lot=F-1');
  expect(addressOf({ origin: { lot: 'F-1' }, asKnownAt: 0 })).toBe('/trace?lot=F-1&asKnownAt=0');
});

test('nonsense in an address is as nothing', () => {
  expect(readQuestion('?asKnownAt=-3&direction=up&shown=all&lot=&lots=')).toEqual(readQuestion(''));
  expect(hasOrigin(readQuestion('?from=2026-01-01&supplier=S'))).toBe(false);
  expect(hasOrigin(readQuestion('?lots=B-1'))).toBe(true);
  expect(hasOrigin(readQuestion('?line=L1'))).toBe(false);
  expect(hasOrigin(readQuestion('?line=L1&from=2026-01-01T00:00:00.000Z&to=2026-01-02T00:00:00.000Z'))).toBe(true);
});

test('what is asked, and what is downloaded, is the same trace', () => {
  const question = readQuestion('?supplierLot=RI%2F22&supplier=S-QUIL&asKnownAt=7&shown=conservative&chosen=lot+X');
  expect(queryOf(question, 'both')).toEqual({
    supplierLot: 'RI/22',
    supplier: 'S-QUIL',
    direction: 'forward',
    asKnownAt: 7,
    scope: 'both',
    whereabouts: true,
    links: true,
    inputs: true,
  });
  expect(csvAddress(question, 7)).toBe(
    '/api/trace/pieces.csv?supplierLot=RI%2F22&supplier=S-QUIL&direction=forward&asKnownAt=7&scope=conservative',
  );
});

test('a recall names the origin as it was asked, or the lots found where it cannot', () => {
  expect(recallOrigin({ supplierLot: 'RI-22', supplier: 'S', lots: ['A', 'B'] }, [])).toEqual([
    { lot: 'A' },
    { lot: 'B' },
    { supplierLot: 'RI-22', supplier: 'S' },
  ]);
  const found = [
    { lot: 'B-1', spans: null },
    {
      lot: 'F-1',
      spans: [
        [1, 4],
        [9, 9],
      ] as const,
    },
  ];
  expect(recallOrigin({ vessel: 'V-1' }, found)).toEqual([{ lot: 'B-1' }, { lot: 'F-1', pieces: '1-4,9' }]);
  expect(originWords({ lot: 'F-1', pieces: '1-4', vessel: 'V-1' })).toBe('pieces 1-4 of lot F-1 and vessel V-1 since its last cleaning');
});
