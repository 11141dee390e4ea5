import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { canonicalJson } from './canonical-json.js';

/** The same value with the members of every object in the opposite order. */
function turned(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(turned);
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(
    Object.entries(value)
      .toReversed()
      .map(([key, member]) => [key, turned(member)]),
  );
}

test('the order of members and the way of building do not show', () => {
  fc.assert(
    fc.property(fc.jsonValue({ maxDepth: 4 }), (value) => {
      const text = canonicalJson(value);
      expect(canonicalJson(turned(value))).toBe(text);
      expect(canonicalJson(JSON.parse(text))).toBe(text);
    }),
  );
});

test('members are sorted by UTF-16 code units, the order of RFC 8785 section 3.2.3', () => {
  const keys = ['\u20ac', '\r', '\ufb33', '1', '\u{1f600}', '\u0080', '\u00f6'];
  const written = canonicalJson(Object.fromEntries(keys.map((key, i) => [key, i])));
  expect([...written.matchAll(/:(\d)/g)].map((match) => Number(match[1]))).toEqual([1, 3, 5, 6, 0, 4, 2]);
});

test('numbers and texts are written as ECMAScript writes them, RFC 8785 section 3.2.2', () => {
  expect(canonicalJson([JSON.parse('333333333.33333329'), 1e30, 4.5, 2e-3, 1e-27, -0])).toBe('[333333333.3333333,1e+30,4.5,0.002,1e-27,0]');
  expect(canonicalJson('\u20ac$\u000f\nA\'B"\\/')).toBe('"€$\\u000f\\nA\'B\\"\\\\/"');
});

test('undefined members are left out', () => expect(canonicalJson({ b: 1, a: undefined })).toBe('{"b":1}'));

const REFUSED = /JSON|BigInt|not allowed|Circular/;

const circle: { self?: unknown } = {};
circle.self = circle;

test.each([
  ['undefined', undefined],
  ['a function', () => 1],
  ['a symbol', Symbol('s')],
  ['bigint', 1n],
  ['NaN', NaN],
  ['an infinity within', { a: [Infinity] }],
  ['undefined in a list', { a: [1, undefined] }],
  ['a hole in a list', [1, , 2]], // oxlint-disable-line no-sparse-arrays
  ['a function within', { a: () => 1 }],
  ['a symbol within', { a: Symbol('s') }],
  ['half a character', 'a\ud800'],
  ['a circle', circle],
])('refuses %s', (_case, value) => expect(() => canonicalJson(value)).toThrow(REFUSED));
