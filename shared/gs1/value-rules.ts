import { gs1CheckDigit } from './check-digit.js';
import { checkPair } from './check-pair.js';
import { COUNTRY_LETTERS, COUNTRY_NUMBERS, CURRENCY_NUMBERS } from './code-lists.js';
import { readGs1Date } from './gs1-date.js';
import { dateFault } from '../time.js';

/** What is wrong with a part of a value, from which of its characters on. */
export interface RuleFault {
  readonly code: string;
  readonly detail: string;
  readonly from: number;
}

type Rule = (part: string, thisYear: number) => RuleFault | null;

/** A fault by its code, in words that follow the name of the element. */
export const valueFault = (code: string, detail: string, from = 0): RuleFault => ({ code, detail, from });
const unless = (holds: boolean, otherwise: RuleFault): RuleFault | null => (holds ? null : otherwise);

/** A GS1 company prefix has at least four digits; which prefixes are given out is not in the dictionary. */
const prefixFrom =
  (from: number): Rule =>
  (part) => {
    const prefix = part.slice(from, from + 4);
    if (prefix.length < 4) return valueFault('company-prefix-missing', 'is too short to begin with a company prefix', from);
    const wrong = prefix.search(/\D/);
    return wrong < 0 ? null : valueFault('company-prefix-missing', 'does not begin with the digits of a company prefix', from + wrong);
  };

const date =
  (dayZero: boolean): Rule =>
  (part, thisYear) => {
    if (!/^0[1-9]|^1[0-2]/.test(part.slice(2))) return valueFault('no-such-date', `has no month ${part.slice(2, 4)}`, 2);
    if (part.endsWith('00') && !dayZero) return valueFault('no-such-date', 'has no day: here a month alone is not allowed', 4);
    return readGs1Date(part, thisYear) === null ? valueFault('no-such-date', `is no day of the calendar: ${part.slice(4)}`, 4) : null;
  };

const longDate: Rule = (part) => {
  const wrong = dateFault(`${part.slice(0, 4)}-${part.slice(4, 6)}-${part.slice(6)}`);
  return wrong === null ? null : valueFault('no-such-date', wrong);
};

const below =
  (limit: number, what: string): Rule =>
  (part) =>
    unless(Number(part) < limit, valueFault('no-such-time', `has no ${what} ${part}`));

const hoursAndMinutes: Rule = (part) => {
  if (Number(part.slice(0, 2)) > 23) return valueFault('no-such-time', `has no hour ${part.slice(0, 2)}`);
  return Number(part.slice(2)) > 59 ? valueFault('no-such-time', `has no minute ${part.slice(2)}`, 2) : null;
};

const pieceOfTotal: Rule = (part) => {
  const [piece, total] = [Number(part.slice(0, 2)), Number(part.slice(2))];
  if (piece === 0) return valueFault('content-not-allowed', 'counts its pieces from 0; the first is 01');
  if (total === 0) return valueFault('content-not-allowed', 'is a piece of none', 2);
  return unless(piece <= total, valueFault('content-not-allowed', `is piece ${piece} of only ${total}`));
};

const placeInSequence: Rule = (part) => {
  const match = /^([1-9]\d*)\/([1-9]\d*)$/.exec(part);
  if (match === null) return valueFault('content-not-allowed', 'is not written as place/of');
  return unless(Number(match[1]) <= Number(match[2]), valueFault('content-not-allowed', `is place ${match[1]} of only ${match[2]}`));
};

/** ISO 13616: the number read with its first four characters last, letters as 10 to 35, leaves 1 when divided by 97. */
const iban: Rule = (part) => {
  if (!/^[A-Z]{2}\d{2}[0-9A-Z]+$/.test(part)) return valueFault('content-not-allowed', 'is not written as an account number (IBAN)');
  let rest = 0;
  for (const letter of part.slice(4) + part.slice(0, 4)) rest = Number(`${rest}${Number.parseInt(letter, 36)}`) % 97;
  return unless(rest === 1, valueFault('check-digit-wrong', 'is an account number (IBAN) with wrong check digits'));
};

const percent: Rule = (part) => {
  const wrong = part.search(/%(?![0-9A-Fa-f]{2})/);
  return wrong < 0 ? null : valueFault('content-not-allowed', 'has a % that no two hexadecimal digits follow', wrong);
};

const oneOf =
  (pattern: RegExp, detail: string): Rule =>
  (part) =>
    unless(pattern.test(part), valueFault('content-not-allowed', detail));

const unread: Rule = () => valueFault('coupon-not-read', 'is a coupon, which is not read here');

/** The rules by the names the dictionary gives them. */
export const VALUE_RULES: Readonly<Record<string, Rule>> = {
  csum: (part) => {
    const right = `${gs1CheckDigit(part.slice(0, -1))}`;
    return part.endsWith(right)
      ? null
      : valueFault('check-digit-wrong', `has check digit ${part.at(-1)} where ${right} belongs`, part.length - 1);
  },
  csumalpha: (part) => {
    const right = part.length < 3 ? null : checkPair(part.slice(0, -2));
    return part.slice(-2) === right
      ? null
      : valueFault('check-digit-wrong', 'has a wrong pair of check characters', Math.max(0, part.length - 2));
  },
  gcppos1: prefixFrom(0),
  gcppos2: prefixFrom(1),
  yymmd0: date(true),
  yymmdd: date(false),
  yyyymmdd: longDate,
  hhmi: hoursAndMinutes,
  hh: below(24, 'hour'),
  mi: below(60, 'minute'),
  ss: below(60, 'second'),
  iso3166: (part) => unless(COUNTRY_NUMBERS.has(part), valueFault('no-such-country', `is no country's number: ${part}`)),
  iso3166999: (part) =>
    unless(part === '999' || COUNTRY_NUMBERS.has(part), valueFault('no-such-country', `is no country's number: ${part}`)),
  iso3166alpha2: (part) => unless(COUNTRY_LETTERS.has(part), valueFault('no-such-country', `is no country's code: ${part}`)),
  iso4217: (part) => unless(CURRENCY_NUMBERS.has(part), valueFault('no-such-currency', `is no currency's number: ${part}`)),
  zero: oneOf(/^0+$/, 'must begin with 0 here'),
  nonzero: oneOf(/[^0]/, 'must not be 0'),
  winding: oneOf(/^[019]$/, 'is no direction of winding: 0, 1 or 9'),
  yesno: oneOf(/^[01]$/, 'is neither 0 (no) nor 1 (yes)'),
  hyphen: oneOf(/^-$/, 'ends in something other than the minus sign'),
  latitude: (part) => unless(Number(part) <= 1_800_000_000, valueFault('content-not-allowed', 'is no latitude')),
  longitude: (part) => unless(Number(part) <= 3_600_000_000, valueFault('content-not-allowed', 'is no longitude')),
  pcenc: percent,
  importeridx: oneOf(/^[-_0-9A-Za-z]$/, 'has an importer index that is no letter, digit, - or _'),
  packagetype: oneOf(/^[0-9A-Z]{1,3}$/, 'is not written as a package type'),
  mediatype: oneOf(/^(?:0[1-9]|10|[89]\d)$/, 'is no assigned media type'),
  iso5218: oneOf(/^[0129]$/, 'is no code of ISO 5218'),
  posinseqslash: placeInSequence,
  pieceoftotal: pieceOfTotal,
  nozeroprefix: oneOf(/^(?:0|[^0].*)$/s, 'begins with 0'),
  hasnondigit: oneOf(/\D/, 'has digits only'),
  iban,
  couponcode: unread,
  couponposoffer: unread,
};
