import { expect, test } from 'vitest';
import { Reasons, Refusal } from './refusal.js';

function refusalOf(reasons: Reasons): Refusal {
  try {
    reasons.throwIfAny();
  } catch (error) {
    if (error instanceof Refusal) return error;
  }
  throw new Error('there was no refusal');
}

test('no reason, no refusal', () => {
  const reasons = new Reasons();
  expect(reasons.any).toBe(false);
  expect(() => reasons.throwIfAny()).not.toThrow();
});

test('every reason is told, in the order found, with its facts', () => {
  const reasons = new Reasons();
  reasons.conflict('lot-on-hold', 'L-1 is on hold', { lot: 'L-1', hold: 'H-2' });
  reasons.unknown('lot-unknown', 'there is no lot L-9', { lot: 'L-9' });
  const refusal = refusalOf(reasons);
  expect(refusal).toBeInstanceOf(Error);
  expect(refusal.message).toBe('L-1 is on hold; there is no lot L-9');
  expect(refusal.reasons).toEqual([
    { code: 'lot-on-hold', detail: 'L-1 is on hold', lot: 'L-1', hold: 'H-2' },
    { code: 'lot-unknown', detail: 'there is no lot L-9', lot: 'L-9' },
  ]);
});

test('a fact cannot take the place of the code or the sentence', () => {
  const reasons = new Reasons();
  reasons.conflict('expired', 'L-1 has expired', { code: 'L-1', detail: 'x' });
  expect(reasons.list).toEqual([{ code: 'expired', detail: 'L-1 has expired' }]);
});

test('a refusal keeps the reasons of its own moment', () => {
  const reasons = new Reasons();
  reasons.conflict('expired', 'L-1 has expired');
  const refusal = refusalOf(reasons);
  reasons.conflict('lot-on-hold', 'L-1 is on hold');
  expect(refusal.reasons).toHaveLength(1);
});

const KINDS = ['unknown', 'conflict', 'forbidden', 'malformed'] as const;

test.each([
  [['unknown'], 'unknown'],
  [['unknown', 'unknown'], 'unknown'],
  [['unknown', 'conflict'], 'conflict'],
  [['conflict'], 'conflict'],
  [['unknown', 'malformed', 'conflict'], 'malformed'],
  [['malformed', 'forbidden', 'unknown'], 'forbidden'],
] as [(typeof KINDS)[number][], string][])('%j together are %s', (kinds, whole) => {
  const reasons = new Reasons();
  for (const kind of kinds) reasons[kind]('some-code', 'some sentence');
  expect(refusalOf(reasons).kind).toBe(whole);
});

test('reasons taken over keep their kind and their own pointer', () => {
  const line = new Reasons();
  line.malformed('not-whole', 'give a whole number', { pointer: '/lines/2/quantity' });
  line.conflict('lot-on-hold', 'L-1 is on hold');
  const reasons = new Reasons();
  reasons.takeOver(line, { pointer: '/lines/2' });
  expect(refusalOf(reasons).kind).toBe('malformed');
  expect(reasons.list.map((reason) => reason['pointer'])).toEqual(['/lines/2/quantity', '/lines/2']);
});
