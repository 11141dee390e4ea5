import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const filesUnder = (dir: string): string[] =>
  readdirSync(dir, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.(ts|tsx)$/.test(entry.name) && !entry.name.endsWith('.d.ts'))
    .map((entry) => join(entry.parentPath, entry.name));

const sources = [...filesUnder('src'), ...filesUnder('shared')].filter((file) => !file.endsWith('.test.ts'));
const everything = [...filesUnder('src'), ...filesUnder('shared'), ...filesUnder('test')];

interface Ban {
  readonly what: RegExp;
  readonly instead: string;
  readonly allowed?: RegExp;
  readonly files?: readonly string[];
}

/** Each ban names what to write instead. */
const BANS: readonly Ban[] = [
  {
    what: /\.(insert|update|delete)\(\w+,|INSERT INTO|UPDATE "|DELETE FROM|insertRows\(/,
    instead: 'tables are written by *.project.ts, the ledger and what people keep beside it; put the change into a fact',
    allowed:
      /\.project\.ts$|\.migration\.ts$|src\/server\/ledger\/|src\/server\/record\/|plant\/commands\.ts|plant\/rebuild|platform\/database\/|plant\/people\/.*\.(store|keep|table)s?\.ts$/,
  },
  { what: /\.save\(/, instead: 'insertRows: save() selects first and may update', allowed: /documents\/pdf\// },
  { what: /\.upsert\(/, instead: 'insertRows; nothing is overwritten' },
  { what: /synchronize: true/, instead: 'a migration' },
  { what: /Promise\.all\([^)]*\btx\b/, instead: 'await each statement: one that fails must not leave another running' },
  { what: /new Date\(|Date\.now\(/, instead: 'the injected Clock', allowed: /platform\/clock\.ts$|web\/app\/clock\.ts$|documents\/pdf\// },
  { what: /type: '(timestamp|datetime|date|decimal|json|jsonb|simple-json)'/, instead: 'a column of platform/database/columns.ts' },
  { what: /type: 'bigint'/, instead: 'micro() of platform/database/columns.ts', allowed: /platform\/database\/columns\.ts$/ },
  { what: /\.transaction\(/, instead: 'CommandGate.run', allowed: /platform\/database\/gate\.ts$/ },
  { what: /localeCompare/, instead: 'a comparison by code unit: two machines must sort alike' },
  {
    what: /^ {2}(readonly )?\w+\??: readonly \w+\[\]/,
    instead: 'a plain array: the plugin that writes the API document from these classes does not read the other kind, and the page fails',
    files: sources.filter((file) => file.endsWith('.dto.ts')),
  },
  { what: /:memory:/, instead: 'a temporary file: every connection to :memory: is another database', files: everything },
  { what: /\b(it|describe|test)\.(only|skip)\(|\.todo\(/, instead: 'a test that runs', files: everything },
  { what: /\b(FIXME|TODO|XXX)\b/, instead: 'an issue', files: everything },
];

describe('the sources are tidy', () => {
  it.each(BANS.map((ban) => [String(ban.what), ban] as const))('nowhere %s', (_name, ban) => {
    const found = (ban.files ?? sources)
      .filter((file) => !file.endsWith('tidy.test.ts') && !ban.allowed?.test(file))
      .flatMap((file) =>
        readFileSync(file, 'utf8')
          .split('\n')
          .flatMap((line, i) => (ban.what.test(line) ? [`${file}:${i + 1} ${line.trim()}`] : [])),
      );
    expect(found, `write instead: ${ban.instead}`).toEqual([]);
  });

  it('files stay one idea: none longer than 300 lines', () => {
    const long = sources.map((file) => [file, readFileSync(file, 'utf8').split('\n').length] as const).filter(([, lines]) => lines > 300);
    expect(long).toEqual([]);
  });

  it('has no barrels and no utils', () => {
    expect(sources.filter((file) => /(^|\/)(index|utils?|helpers?|misc)\.ts$/.test(file))).toEqual([]);
  });
});
