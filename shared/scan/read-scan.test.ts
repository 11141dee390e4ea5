import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import strings from '../../fixtures/standards/gs1/element-strings.json' with { type: 'json' };
import { gs1CheckDigit } from '../gs1/check-digit.js';
import { CSET_82 } from '../gs1/check-pair.js';
import { readSymbology } from '../gs1/symbology.js';
import { Gs1WriteFault } from '../gs1/write-element-string.js';
import { elementString, type Labelled } from './element-string.js';
import { readScan } from './read-scan.js';
import type { Gs1Scan, Scan } from './scan.js';

const TODAY = '2026-11-25';
const GS = '\u001d';
const read = (text: string): Scan => readScan(text, TODAY);

function understood(text: string): Gs1Scan {
  const scan = read(text);
  if (scan.kind !== 'gs1') throw new Error(`${text} is ${scan.kind}: ${JSON.stringify(scan)}`);
  return scan;
}

const codes = (text: string): string[] => {
  const scan = read(text);
  return scan.kind === 'faulty' ? scan.reasons.map(({ code }) => code) : [scan.kind];
};

describe('ID-9: what scanners send', () => {
  /** An empty plain symbol is allowed by its standard; here a scan of nothing is no scan. */
  const EMPTY = new Set([']Q1', ']d1', ']J0']);
  /** Without an identifier it is text that somebody typed. */
  const TYPED = new Set(['ABC']);

  test.each(strings.groups.scanner_messages.cases)('$scan $note', ({ scan, valid, message }) => {
    const { kind } = read(scan);
    if (!valid || EMPTY.has(scan)) return expect(kind).toBe(TYPED.has(scan) ? 'plain' : 'faulty');
    expect(kind).not.toBe('faulty');
    // The vectors write FNC1 as ^, and a ^ that plain text begins with as \^.
    const symbol = readSymbology(scan)!;
    const marked = (text: string): string => `^${text.replaceAll(GS, '^')}`;
    const plain = symbol.message.replace(/^(\\*)\^/, String.raw`\$1^`);
    const parts = [symbol.carries === 'elements' ? marked(symbol.message) : plain];
    if (symbol.added) parts.push(marked(symbol.added.message));
    expect(parts.join('|')).toBe(message);
  });
});

const SUPPLIER = '01095200000000111727033111260306310301250010RM-2291/A';

test('a label of a supplier is understood in full, in plain words', () => {
  expect(read(`]d2${SUPPLIER}${GS}400PO-4711`)).toEqual({
    kind: 'gs1',
    form: 'element-string',
    text: `]d2${SUPPLIER}${GS}400PO-4711`,
    gtin: '09520000000011',
    lot: 'RM-2291/A',
    serial: null,
    item: null,
    expiresOn: '2027-03-31',
    madeOn: '2026-03-06',
    bestBeforeOn: null,
    quantity: { value: '12.5', unit: 'kg' },
    quantities: [{ value: '12.5', unit: 'kg' }],
    sscc: null,
    other: [{ ai: '400', title: 'ORDER NUMBER', value: 'PO-4711' }],
    says: [
      'Item with GTIN 09520000000011',
      'Use by 2027-03-31',
      'Made on 2026-03-06',
      'Net weight 12.5 kg',
      'Lot RM-2291/A',
      'ORDER NUMBER (400): PO-4711',
    ],
    cautions: [],
  } satisfies Scan);
});

test('the same elements are the same in every form', () => {
  const { form: _form, text: _text, ...meaning } = understood(`]d2${SUPPLIER}`);
  const bracketed = '(01)09520000000011(17)270331(11)260306(3103)012500(10)RM-2291/A';
  const link = 'https://example.com/some/where/01/09520000000011/10/RM-2291%2FA?17=270331&11=260306&3103=012500';
  for (const same of [`]C1${SUPPLIER}`, SUPPLIER, `${GS}${SUPPLIER}`, `]d2${SUPPLIER}\r\n`, bracketed, link, `]Q1${link}`]) {
    const { form: _f, text: _t, says, ...other } = understood(same);
    expect(other).toEqual({ ...meaning, says: undefined });
    expect(says.toSorted()).toEqual(meaning.says.toSorted());
  }
});

test.each([
  ['(17)270200', { expiresOn: '2027-02-28' }, 'Use by 2027-02-28, the end of the month given'],
  ['(17)280200', { expiresOn: '2028-02-29' }, 'Use by 2028-02-29, the end of the month given'],
  ['(17)760131', { expiresOn: '2076-01-31' }, 'Use by 2076-01-31'],
  ['(17)770131', { expiresOn: '1977-01-31' }, 'Use by 1977-01-31'],
  ['(7003)2703311630', { expiresOn: '2027-03-31' }, 'Use by 2027-03-31 16:30'],
  ['(8008)26030607', { madeOn: '2026-03-06' }, 'Made on 2026-03-06 07'],
  ['(8008)260306071559', { madeOn: '2026-03-06' }, 'Made on 2026-03-06 07:15:59'],
  ['(15)270331', { bestBeforeOn: '2027-03-31' }, 'Best before 2027-03-31'],
  ['(13)270331', { other: [{ ai: '13', title: 'PACK DATE', value: '2027-03-31' }] }, 'PACK DATE (13): 2027-03-31'],
  ['(30)0024', { quantity: { value: '24', unit: 'each' } }, 'Count: 24'],
  ['(3100)001250', { quantity: { value: '1250', unit: 'kg' } }, 'Net weight 1250 kg'],
  ['(3105)000001', { quantity: { value: '0.00001', unit: 'kg' } }, 'Net weight 0.00001 kg'],
  ['(3152)000500', { quantity: { value: '5', unit: 'L' } }, 'Net volume 5 L'],
  ['(3111)000000', { quantity: { value: '0', unit: 'm' } }, 'Length 0 m'],
  ['(3302)012345', { quantity: null, other: [{ ai: '3302', title: 'GROSS WEIGHT (kg)', value: '123.45 kg' }] }, 'Gross weight 123.45 kg'],
  ['(3571)000125', { quantity: null }, 'Net volume 12.5 fl oz'],
  ['(91)X-7', { lot: null, other: [{ ai: '91', title: 'INTERNAL', value: 'X-7' }] }, 'INTERNAL (91): X-7'],
  ['(91)lot=ab 7', {}, null],
  ['(91)lot=ab7', { lot: 'ab7', other: [] }, 'Lot ab7, by a label of this plant'],
])('%s', (text, expected, says) => {
  const scan = read(`(01)09520000000011${text}`);
  if (says === null) return expect(scan.kind).toBe('faulty');
  expect(scan).toMatchObject(expected);
  expect((scan as Gs1Scan).says).toContain(says);
});

test('a pallet: the item is what it holds', () => {
  expect(read(`]C100195200000000000018020952000000001137120${GS}10L-88`)).toMatchObject({
    sscc: '195200000000000018',
    gtin: '09520000000011',
    quantity: { value: '120', unit: 'each' },
    lot: 'L-88',
    cautions: [],
  });
});

test.each([
  ['6291041500213', '06291041500213'],
  ['02345673', '00000002345673'],
  ['416000336108', '00416000336108'],
  [']E06291041500213', '06291041500213'],
  [']I112345678901231', '12345678901231'],
])('%s is a GTIN', (text, gtin) => {
  const scan = understood(text);
  expect(scan).toMatchObject({ form: 'gtin', gtin });
  // Without an identifier eight digits may be anything, a date for example.
  expect(scan.cautions).toHaveLength(text.startsWith(']') ? 0 : 1);
});

test.each(['RM-2291/A', '10-ABC', '10ABC', '0112345678901234', '20260311', '(see box)', 'https', 'a b', '000123', 'x'.repeat(200)])(
  'plain: %s',
  (text) => {
    expect(read(text)).toEqual({ kind: 'plain', text });
    expect(read(`]C0${text}`)).toEqual({ kind: 'plain', text });
  },
);

test('ID-8: case, zeros and punctuation of a lot count', () => {
  const lots = ['ab12', 'AB12', '000123', '123'].map((lot) => understood(`]d2010952000000001110${lot}`).lot);
  expect(lots).toEqual(['ab12', 'AB12', '000123', '123']);
});

test.each([
  ['no text', '', ['nothing-encoded']],
  ['a wrong check digit', ']d2010952000000001210L1', ['check-digit-wrong']],
  ['a wrong check digit, no identifier sent', '010952000000001210L1', ['check-digit-wrong']],
  ['a day that is none', ']d201095200000000111727023010L1', ['no-such-date']],
  ['a month that is none', ']d2010952000000001111271301', ['no-such-date']],
  ['a blank in a lot', ']d2010952000000001110LOT 7', ['bad-character']],
  ['a separator left out', ']d2010952000000001110ABCDEFGHIJKLMNOPQRST17270331', ['value-too-long']],
  ['a separator left out behind a count', `]d201195200000000183024001234567810B7`, ['value-too-long']],
  ['an identifier nobody assigned', ']d201195200000000183106012500', ['ai-unknown']],
  ['two lots', `]d2010952000000001110L-88${GS}10L-89`, ['repeated-differently']],
  [
    'the item and its contents',
    ']d200195200000000000018010952000000001102195200000000183710',
    ['elements-contradict', 'elements-contradict'],
  ],
  ['a coupon', ']C18110ABC', ['coupon-not-read']],
  ['a link to nowhere', 'https://example.com/about', ['link-names-nothing']],
  ['a link with a wrong check digit', 'https://example.com/01/09520000000012', ['check-digit-wrong']],
  ['a link in the wrong order', 'https://example.com/01/09520000000011/21/7/10/L1', ['link-path-wrong']],
  ['a lot in the query', 'https://example.com/01/09520000000011?10=L1', ['link-query-wrong']],
  ['no UTF-8', 'https://example.com/01/09520000000011/10/%ff', ['link-malformed']],
  ['a broken identifier', ']', ['symbology-unknown']],
  ['an EAN cut short', ']E0123456789012', ['not-a-gtin']],
  ['far too much', '1'.repeat(9000), ['scan-too-long']],
  [
    'every fault at once',
    `]d20109520000000012${GS}11271301${GS}ZZ${GS}10LOT 7`,
    ['check-digit-wrong', 'no-such-date', 'ai-unknown', 'bad-character'],
  ],
])('ID-9: refused for its reason: %s', (_what, text, expected) => {
  expect(codes(text)).toEqual(expected);
});

test('ID-9: a fault tells where it is', () => {
  const scan = read(`]d2010952000000001110LOT 7`);
  expect(scan).toMatchObject({
    reasons: [
      { at: 24, ai: '10', detail: '(10) BATCH/LOT has a character that is not one of the 82 characters GS1 allows, at character 25' },
    ],
  });
  const link = 'https://example.com/01/09520000000012';
  expect(read(link)).toMatchObject({ reasons: [{ at: link.length - 1 }] });
});

test('ID-9: what only a person can see is said as a caution', () => {
  expect(understood(']d2010952000000001110RM-2291/A17270331').cautions).toEqual([
    'The lot RM-2291/A17270331 ends like (17) USE BY or EXPIRY 270331: a separator may be missing; compare it with what is printed',
  ]);
  expect(understood(']C101095200000000111727033110LW-33100000025').cautions).toEqual([
    'The lot LW-33100000025 ends like (3100) NET WEIGHT (kg) 000025: a separator may be missing; compare it with what is printed',
  ]);
  expect(understood('(10)L-88').cautions[0]).toContain('(10) BATCH/LOT means something only beside (01)');
  const two = understood(`]d2011952000000001831030125003024`);
  expect(two.quantity).toBeNull();
  expect(two.cautions).toEqual(['The label states more than one quantity: 12.5 kg and 24 each']);
});

const gtin = fc
  .tuple(fc.constantFrom(7, 11, 12, 13), fc.bigInt({ min: 0n, max: 9_999_999_999_999n }))
  .map(([length, n]) => `${n}`.padStart(13, '1').slice(-length))
  .map((body) => `${body}${gs1CheckDigit(body)}`);
const code = fc.array(fc.constantFrom(...CSET_82), { minLength: 1, maxLength: 20 }).map((letters) => letters.join(''));
const day = fc
  .date({ min: new Date('1977-01-01T00:00:00Z'), max: new Date('2076-12-31T00:00:00Z'), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10));
const measured = fc
  .tuple(fc.integer({ min: 0, max: 999_999 }), fc.integer({ min: 0, max: 5 }), fc.constantFrom('kg', 'L', 'm'))
  .map(([n, decimals, unit]) => ({ value: `${n / 10 ** decimals}`, unit }) as const)
  .filter(({ value }) => !value.includes('e'));
const counted = fc.integer({ min: 0, max: 99_999_999 }).map((n) => ({ value: `${n}`, unit: 'each' }) as const);
const maybe = <T>(one: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(one, { nil: null });
const label: fc.Arbitrary<Labelled> = fc.record({
  gtin,
  item: maybe(code),
  lot: maybe(code),
  serial: maybe(code),
  madeOn: maybe(day),
  bestBeforeOn: maybe(day),
  expiresOn: maybe(day),
  quantity: maybe(fc.oneof(measured, counted)),
});

function expectReadBack(given: Labelled, scan: Scan): void {
  const { gtin: digits, ...rest } = given;
  expect(scan).toMatchObject({ kind: 'gs1', ...rest, gtin: digits?.padStart(14, '0') ?? null, other: [] });
}

test('what is written is read back, whatever it is', () => {
  fc.assert(fc.property(label, (given) => expectReadBack(given, read(`]d2${elementString(given, TODAY)}`))));
});

test('a label without a GTIN names lot, item and serial number by elements of our own', () => {
  const own = fc.record({ item: maybe(code), lot: code, serial: maybe(code) });
  fc.assert(
    fc.property(own, (given) => {
      const text = elementString(given, TODAY);
      expect(text).not.toMatch(/^10/);
      expectReadBack(given, read(`]d2${text}`));
      expect(read(`]d2${text}`)).toMatchObject({ cautions: [] });
    }),
  );
});

test('what cannot be said is not written', () => {
  for (const given of [
    { gtin: '09520000000012' },
    { gtin: '09520000000011', lot: 'x'.repeat(21) },
    { gtin: '09520000000011', lot: 'LOT 7' },
    { gtin: '09520000000011', expiresOn: '2126-01-01' },
    { gtin: '09520000000011', quantity: { value: '0.000001', unit: 'kg' } },
  ] as const) {
    expect(() => elementString(given, TODAY)).toThrow(Gs1WriteFault);
  }
});

test('it never throws', () => {
  const digits = fc.array(fc.constantFrom('0', '1', '2', '3', '7', '8', '9', GS, ']', 'd', '(', ')', '/', '%', 'A'), { maxLength: 60 });
  const texts = fc.oneof(
    fc.string({ unit: 'binary' }),
    digits.map((list) => list.join('')),
    fc.webUrl({ withQueryParameters: true }),
  );
  fc.assert(
    fc.property(fc.constantFrom('', ']d2', ']C1', ']E0', ']Q1', '(01)', 'https://a/01/'), texts, (before, text) => {
      const scan = read(`${before}${text}`);
      if (scan.kind === 'faulty') expect(scan.reasons.length).toBeGreaterThan(0);
    }),
    { numRuns: 2000 },
  );
});
