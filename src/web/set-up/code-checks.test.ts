import { describe, expect, it } from 'vitest';
import { glnFault, gtinFault } from './code-checks.js';

describe('numbers checked as they are typed', () => {
  // 6291041500213 is the worked example of gs1.org, "How to calculate a check digit manually".
  it.each([
    ['', null],
    ['6291041500213', null],
    ['06291041500213', null],
    ['629104150', '9 digits so far; a GTIN has 8, 12, 13 or 14'],
    ['6291041500214', '6291041500214 is no GTIN: its last digit is a check digit and would be 3'],
    ['62910415002x3', '62910415002x3 is no GTIN: it has digits only'],
  ])('a GTIN %j: %j', (text, fault) => expect(gtinFault(text)).toBe(fault));

  it.each([
    ['', null],
    ['6291041500213', null],
    ['06291041500213', '14 digits so far; a GLN has 13'],
    ['6291041500210', '6291041500210 is no GLN: its last digit is a check digit and would be 3'],
  ])('a GLN %j: %j', (text, fault) => expect(glnFault(text)).toBe(fault));
});
