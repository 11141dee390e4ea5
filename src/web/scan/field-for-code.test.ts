import { expect, it } from 'vitest';
import { readScan } from '../../../shared/scan/read-scan.js';
import { codeOf } from './field-for-code.js';

const code = (text: string): string => codeOf(readScan(text, '2026-03-02'), text);

it('names the thing most closely: a serial before its lot, a lot before the label', () => {
  expect(code('(01)09506000013459(10)U26-00090(21)K-00321')).toBe('K-00321');
  expect(code('(01)09506000135014(17)270601(10)R26-00071')).toBe('R26-00071');
  expect(code('(01)09506000135014')).toBe('(01)09506000135014');
  expect(code(' RACK-2 ')).toBe('RACK-2');
});
