import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { MAX_CODE_LENGTH, codeFault, textFault } from './plain-text.js';

test.each(['L-1', 'l-1', '007', 'Müller/3', '(10)AB', 'a b', 'Ω≈ç', '😀', 'x'.repeat(MAX_CODE_LENGTH)])('kept as it is: %j', (code) => {
  expect(codeFault(code)).toBeNull();
});

test.each([
  ['', 'is empty'],
  ['x'.repeat(MAX_CODE_LENGTH + 1), 'is longer than 64 characters'],
  [' L-1', 'begins or ends with a blank'],
  ['L-1\u00a0', 'begins or ends with a blank'],
  ['L\u0000', 'has a control character (U+0000) at character 2'],
  ['L-1\n', 'has a control character (U+000A) at character 4'],
  ['\u001dL', 'has a control character (U+001D) at character 1'],
  ['L\u0085', 'has a control character (U+0085) at character 2'],
  ['L\u200b1', 'has an invisible character (U+200B) at character 2'],
  ['L\u202e1', 'has an invisible character (U+202E) at character 2'],
  ['L\u2028', 'has an invisible character (U+2028) at character 2'],
  ['L\ud800', 'has half of a character (a lone surrogate)'],
  ['\udc00', 'has half of a character (a lone surrogate)'],
])('no code: %j', (code, fault) => expect(codeFault(code)).toBe(fault));

test.each([
  ['Two lids\nwere\tdented', null],
  ['👩‍🔧', null],
  [' \n', 'is empty'],
  ['x'.repeat(20), null],
  ['x'.repeat(21), 'is longer than 20 characters'],
  ['a\u0007', 'has a control character (U+0007) at character 2'],
  ['a\ud800', 'has half of a character (a lone surrogate)'],
])('free text: %j', (text, fault) => expect(textFault(text, 20)).toBe(fault));

test('a code that is kept has nothing a trim, a database or a hash would change', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 8 }), (text) => {
      if (codeFault(text) !== null) return;
      expect(text.trim()).toBe(text);
      expect(new TextDecoder().decode(new TextEncoder().encode(text))).toBe(text);
      expect(text).not.toMatch(/[\u0000-\u001f\u007f-\u009f]/); // oxlint-disable-line no-control-regex
    }),
    { numRuns: 1000 },
  );
});
