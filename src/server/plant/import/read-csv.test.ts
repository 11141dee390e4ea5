import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Faults } from './faults.js';
import { readCsv } from './read-csv.js';

const HEADER = 'code,name,role,gln,contact';

describe('reading a file', () => {
  let dir: string;
  beforeEach(() => {
    dir = mkdtempSync(join(tmpdir(), 'kinledger-test-'));
  });
  afterEach(() => rmSync(dir, { recursive: true }));

  const read = async (content: string | Buffer) => {
    const path = join(dir, 'parties.csv');
    writeFileSync(path, content);
    const faults = new Faults();
    const rows: [line: number, first: string, second: string][] = [];
    const { rows: count, complete } = await readCsv(path, 'parties.csv', faults, (cells, line) => rows.push([line, cells[0]!, cells[1]!]));
    return { rows, count, complete, faults: faults.listed.map(({ line, column, code }) => [line, column, code]) };
  };

  it('tells the line each row begins on, blank lines and quoted line ends counted', async () => {
    const { rows, faults } = await read(`${HEADER}\nA,one,both,,\n\nB,"two\nlines",both,,\nC,three,both,,`);
    expect(faults).toEqual([]);
    expect(rows).toEqual([
      [2, 'A', 'one'],
      [4, 'B', 'two\nlines'],
      [6, 'C', 'three'],
    ]);
  });

  it('takes the columns in any order', async () => {
    expect((await read('name,contact,code,gln,role\none,,A,,both\n')).rows).toEqual([[2, 'A', 'one']]);
  });

  it.each([
    ['an empty file', '', [[1, null, 'no-header']]],
    ['a header without a column', 'code,name,role,gln\nA,one,both,\n', [[1, 'contact', 'missing-column']]],
    [
      'a column in other case',
      'Code,name,role,gln,contact\n',
      [
        [1, 'Code', 'unknown-column'],
        [1, 'code', 'missing-column'],
      ],
    ],
    ['a row with a cell too many', `${HEADER}\nA,one,both,,,\nB,two,both,,\n`, [[2, null, 'ragged-row']]],
    ['a quote inside a cell', `${HEADER}\nA,on"e,both,,\nB,two,both,,\n`, [[2, null, 'bad-quoting']]],
    ['text after a closing quote', `${HEADER}\nA,"one"x,both,,\n`, [[2, null, 'bad-quoting']]],
    ['a quote that is never closed', `${HEADER}\nA,one,both,,\nB,"two,both,,\nC,three,both,,\n`, [[3, null, 'bad-quoting']]],
  ])('reports %s', async (_what, content, expected) => {
    expect((await read(content)).faults).toEqual(expected);
  });

  it('ends at a quote that swallows the file rather than hold all of it', async () => {
    const { faults, complete } = await read(`${HEADER}\nA,"one,both,,\n${'B,two,both,,\n'.repeat(20_000)}`);
    expect([faults, complete]).toEqual([[[2, null, 'bad-quoting']], false]);
  });
});
