import { describe, expect, test } from 'vitest';
import dates from '../../fixtures/standards/gs1/dates.json' with { type: 'json' };
import dictionary from '../../fixtures/standards/gs1/dictionary.json' with { type: 'json' };
import links from '../../fixtures/standards/gs1/digital-links.json' with { type: 'json' };
import strings from '../../fixtures/standards/gs1/element-strings.json' with { type: 'json' };
import plant from '../../fixtures/standards/gs1/plant-labels.json' with { type: 'json' };
import { applicationIdentifiers } from './application-identifiers.js';
import { exclusionFaults, partnerFaults, repeatFaults, signedKeyFaults } from './associations.js';
import { readBracketed, splitBracketed } from './bracketed.js';
import { alternativesOf } from './digital-link-path.js';
import { readDigitalLink } from './digital-link.js';
import { readElementString } from './element-string.js';
import { fullYear, readGs1Date } from './gs1-date.js';
import type { Gs1Reading } from './reading.js';
import { messageOf } from './write-element-string.js';
import { writeDigitalLink } from './write-digital-link.js';

const YEAR = 2026;
const { groups } = strings;
const scanned = (fnc1: string): string => fnc1.replaceAll('^', '\u001d');
const valuesOf = ({ elements }: Gs1Reading) => elements.map(({ ai, value }) => ({ ai, value }));

/** What the vectors call a message: FNC1 first, else it is not GS1's. */
function readFnc1(fnc1: string): Gs1Reading {
  if (!fnc1.startsWith('^')) return { elements: [], faults: [{ code: 'no-fnc1', detail: 'no FNC1 in first position', at: 0 }] };
  return readElementString(scanned(fnc1.slice(1)), YEAR);
}

test('the table of Application Identifiers is the dictionary', () => {
  const rows = dictionary.identifiers.flatMap((row) => {
    const [first = '', last = first] = row.ai.split('-');
    return Array.from({ length: Number(last) - Number(first) + 1 }, (_, i) => ({
      ai: `${Number(first) + i}`.padStart(first.length, '0'),
      title: row.title,
      form: row.spec,
      fixedLength: row.predefined_length_no_fnc1 ? row.max_len : null,
      inQuery: row.dl_data_attribute,
      requires: (row.requires ?? []).map((entry) => entry.split(',').map((one) => one.split('+'))),
      excludes: (row.excludes ?? []).flatMap((entry) => entry.split(',')),
      qualifiers: row.dl_primary_key_qualifiers?.map((one) => one.split(',')) ?? null,
    }));
  });
  expect(applicationIdentifiers()).toEqual(rows);
});

describe('ID-9: bracketed text', () => {
  test.each(groups.bracketed_to_fnc1.cases)('$bracketed $note', ({ bracketed, valid, fnc1, parsed }) => {
    const reading = readBracketed(bracketed, YEAR);
    expect(reading.faults.length === 0).toBe(valid);
    if (!valid) return;
    expect(valuesOf(reading)).toEqual(parsed);
    expect(messageOf(reading.elements)).toBe(scanned(fnc1!.slice(1)));
  });
});

describe('ID-9: element strings', () => {
  test.each(groups.fnc1_parse.cases)('$fnc1 $note', ({ fnc1, valid, parsed }) => {
    const reading = readFnc1(fnc1);
    expect(reading.faults.length === 0).toBe(valid);
    if (valid) expect(valuesOf(reading)).toEqual(parsed);
  });

  test.each([
    [90, 1, true],
    [91, 1, false],
    [1, 64, true],
    [1, 65, false],
  ])('%i characters in each of %i elements: %s', (length, count, valid) => {
    const reading = readFnc1(`^${Array.from({ length: count }, () => `99${'A'.repeat(length)}`).join('^')}`);
    expect(reading.faults.length === 0).toBe(valid);
  });
});

describe('ID-9: what a value may hold', () => {
  test.each(groups.content_checks.cases)('$bracketed $expected', ({ bracketed, expected }) => {
    const reading = readBracketed(bracketed, YEAR);
    expect(reading.faults.length === 0).toBe(expected === 'OK');
    const message = messageOf(reading.elements);
    expect(readElementString(message, YEAR).faults.length === 0).toBe(expected === 'OK');
  });
});

const RULES: Readonly<Record<string, typeof repeatFaults>> = {
  'a repeated AI must carry the identical value': repeatFaults,
  'mutually exclusive AIs (dictionary "ex")': exclusionFaults,
  'mandatory association (dictionary "req")': partnerFaults,
  '(8030) needs a serialised key': signedKeyFaults,
};

describe('ID-9: elements together', () => {
  test.each(groups.associations.cases)('$bracketed $rule', ({ bracketed, rule, valid }) => {
    const { elements, fault } = splitBracketed(bracketed);
    expect(fault).toBeNull();
    expect(RULES[rule]?.(elements).length === 0).toBe(valid);
  });
});

describe('ID-9: dates', () => {
  test.each(dates.groups.dates_yymmd0.cases)('$value as a date of which the day may be 00: $valid', ({ value, valid }) => {
    expect(readElementString(`11${value}`, YEAR).faults.length === 0).toBe(valid);
    expect(readGs1Date(value, YEAR) !== null).toBe(valid);
  });

  test.each(dates.groups.dates_yymmdd.cases)('$value as a day: $valid', ({ value, valid }) => {
    expect(readElementString(`7006${value}`, YEAR).faults.length === 0).toBe(valid);
  });

  test.each(Object.entries(dates.century.century_examples_if_current_year_is_2026))('%s is the year %i', (digits, year) => {
    expect(fullYear(Number(digits), 2026)).toBe(year);
  });
});

/**
 * The engine can be told to read deprecated forms: names for identifiers, GTINs without their zeros, identifiers nobody assigned.
 * This reader cannot, and refuses them; the one row here that is right without any option stays right.
 */
const RIGHT_ANYHOW = new Set(['https://a/8004/9520614141234567?01=09521234543213']);

describe('ID-9: Digital Links', () => {
  test.each(links.groups.digital_link_parse.cases)('$uri $note', (row) => {
    const { uri, parsed } = row;
    const valid = row.valid && (row.non_default_options === undefined || RIGHT_ANYHOW.has(uri));
    const reading = readDigitalLink(uri, YEAR);
    expect(reading.faults.length === 0).toBe(valid);
    if (valid) expect(valuesOf(reading)).toEqual(parsed);
  });

  test.each(links.groups.digital_link_generate.cases)('written: $bracketed', (row) => {
    const { elements } = splitBracketed(row.bracketed);
    const uri = writeDigitalLink(elements, row.stem ?? undefined);
    // As in reading: no option admits (89), which nobody assigned.
    expect(uri).toBe(row.valid && row.non_default_options === undefined ? row.uri : null);
    if (uri !== null) expect(readDigitalLink(uri, YEAR).faults).toEqual([]);
  });

  const { valid_sequences: allowed, invalid_sequences: refused } = links.groups.digital_link_path_rules;
  test.each([...allowed.map((path) => [path, true] as const), ...refused.map((path) => [path, false] as const)])(
    'path %s',
    (path, valid) => {
      const [key = '', ...qualifiers] = path.replace(/ .*/, '').split('/');
      expect(alternativesOf(key, qualifiers).length > 0).toBe(valid);
    },
  );
});

describe('ID-9: labels of the plant', () => {
  test.each(plant.cases)('$id $purpose', (row) => {
    const reading = readFnc1(row.fnc1);
    const { elements } = reading;
    const faults = [...reading.faults, ...repeatFaults(elements), ...exclusionFaults(elements), ...partnerFaults(elements)];
    expect(faults.length === 0).toBe(row.valid);
    const bracketed = readBracketed(row.bracketed, YEAR);
    if (row.valid) expect(valuesOf(bracketed)).toEqual(valuesOf(reading));
    else expect(faults.every(({ at, detail }) => at >= 0 && detail !== '')).toBe(true);
  });
});
