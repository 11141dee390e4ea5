import { describe, expect, it } from 'vitest';
import { csvTable } from './csv.js';

const cell = (text: string): string => csvTable(['a'], [[text]]).split('\r\n')[1]!;

describe('tables as CSV', () => {
  it('has a header and one line a row; nothing is an empty cell', () => expect(csvTable(['a', 'b'], [[1, null]])).toBe('a,b\r\n1,\r\n'));

  it.each(['=1+1', '+1', '-1+1', '@A1', '-', '-1.', '-1e3'])('leads in %s, which a spreadsheet would work out', (text) =>
    expect(cell(text)).toBe(`'${text}`),
  );

  it.each(['-1', '-11.50', 'L-1', '0.00'])('leaves %s as it is', (text) => expect(cell(text)).toBe(text));
});
