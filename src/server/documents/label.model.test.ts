import { describe, expect, test } from 'vitest';
import { builtUnit, filledLot, receivedLot } from '../../../test/example-label.js';
import { labelOf, symbolOf } from './label.model.js';

const GS = '\u001d';

describe('what the symbol of a label holds', () => {
  test.each([
    ['a lot made here', filledLot, 'gs1', '01095060000134351728112010F26-00012'],
    ['a lot received: lot and item in elements of our own', receivedLot, 'gs1', `91lot=R26-00417${GS}92item=WAX-BASE`],
    ['a unit', builtUnit, 'gs1', `010950600001345910A26-00003${GS}21K-02291`],
    [
      'a GTIN that is not ours to number: our lot code is not the maker’s',
      { ...filledLot, makersLot: false },
      'gs1',
      `91lot=F26-00012${GS}92item=WAX-250`,
    ],
    ['a unit whose lot code is not the maker’s', { ...builtUnit, makersLot: false }, 'gs1', '010950600001345921K-02291'],
    ['a wrong GTIN', { ...filledLot, item: { ...filledLot.item, gtin: '09506000013436' } }, 'gs1', `91lot=F26-00012${GS}92item=WAX-250`],
    ['an expiry that two digits of a year cannot say', { ...filledLot, expiresOn: '2099-01-01' }, 'gs1', '010950600001343510F26-00012'],
    ['a lot code of 20 characters', { ...filledLot, lot: 'ABCDEFGHIJKLMNOPQRST' }, 'gs1', '01095060000134351728112010ABCDEFGHIJKLMNOPQRST'],
    ['a lot code of 21 characters', { ...filledLot, lot: 'ABCDEFGHIJKLMNOPQRSTU' }, 'plain', 'ABCDEFGHIJKLMNOPQRSTU'],
    ['a lot code with a blank', { ...filledLot, lot: 'LOT 7' }, 'plain', 'LOT 7'],
    ['a lot code with letters of no GS1 set', { ...receivedLot, lot: 'Größe 7' }, 'plain', 'Größe 7'],
    ['an item code with a blank', { ...receivedLot, item: { ...receivedLot.item, code: 'WAX BASE' } }, 'plain', 'R26-00417'],
    ['a serial number with a blank', { ...builtUnit, serial: 'K 7' }, 'plain', 'K 7'],
  ] as const)('%s', (_what, subject, kind, message) => {
    expect(symbolOf(subject)).toMatchObject({ kind, message });
  });
});

test('a label never claims a state: it says how goods begin and where to ask', () => {
  for (const subject of [filledLot, receivedLot, builtUnit]) {
    const label = labelOf(subject);
    expect(label.standing).toEqual({ word: 'Quarantine', says: 'until released: scan for its state now' });
    expect(
      JSON.stringify(label)
        .toLowerCase()
        .match(/released/g),
    ).toHaveLength(1);
  }
});

test('what there is to mind', () => {
  expect(labelOf(filledLot).notice?.word).toBe('CAUTION');
  expect(labelOf(receivedLot).notice).toEqual({ word: 'STORE', text: 'Keep dry, below 25 °C' });
  expect(labelOf(builtUnit).notice).toBeNull();
  const both = { ...filledLot, item: { ...filledLot.item, hazard: 'Flammable.', storage: 'Keep cool' } };
  expect(labelOf(both).notice).toEqual({ word: 'CAUTION', text: 'Flammable. Keep cool' });
});

test('the facts of a lot and of a unit', () => {
  const named = (subject: typeof filledLot) => Object.fromEntries(labelOf(subject).facts.map(({ name, value }) => [name, value]));
  expect(named(receivedLot)).toEqual({
    'Quantity received': '1 250.5 kg',
    'Use by': 'not stated',
    Received: '25\u00a0Nov\u00a02026',
    'Quillmere Waxes': 'QW-22913/A',
  });
  expect(named({ ...receivedLot, supplier: { name: 'Quillmere Waxes', lot: null } })['Quillmere Waxes']).toBe('no lot code of theirs');
  expect(named(builtUnit)).toEqual({ Lot: 'A26-00003', 'Use by': 'not stated', Made: '20\u00a0Nov\u00a02026' });
});
