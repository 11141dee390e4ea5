import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Aql, AQLS } from '../../shared/sampling/aql.js';
import { codeLetter, type Level, LEVELS } from '../../shared/sampling/code-letter.js';
import { isDouble, type Plan, planAtLetter } from '../../shared/sampling/plan.js';
import { cell, type Letter, type PlanType, ROWS, type Severity } from '../../shared/sampling/tables.js';
import { whyUnverified } from '../../shared/sampling/unverified.js';

interface PrintedTable {
  readonly table: string;
  readonly type: PlanType;
  readonly severity: Severity;
  /** Cells no readable source settles, as letter and AQL; or `all`. */
  readonly notGated: string;
  readonly n: string;
  readonly cells: Readonly<Record<string, string>>;
  readonly plans: Readonly<Record<string, string>>;
}

interface Printed {
  readonly aqls: string;
  readonly codeLetters: { readonly levels: string; readonly rows: readonly string[] };
  readonly tables: readonly PrintedTable[];
}

const printed = JSON.parse(readFileSync('fixtures/standards/iso2859-1-tables.json', 'utf8')) as Printed;

const rowsOf = (table: PrintedTable): Letter[] => ROWS.filter((row) => row in table.cells);
const notGated = (table: PrintedTable): Set<string> =>
  new Set(table.notGated === 'all' ? rowsOf(table).flatMap((row) => AQLS.map((aql) => `${row} ${aql}`)) : table.notGated.split(', '));

const figures = (plan: Plan): string =>
  isDouble(plan) ? `${plan.n1} ${plan.ac1} ${plan.re1} ${plan.n2} ${plan.ac2} ${plan.re2}` : `${plan.n} ${plan.ac} ${plan.re}`;

function asPrinted(table: PrintedTable, letter: Letter, aql: Aql): string {
  const there = cell(table.type, table.severity, letter, aql);
  if (there === null) return '-';
  if (typeof there !== 'string') return isDouble(there) ? figures(there) : `${there.ac} ${there.re}`;
  return there === 'up' ? '^' : there === 'down' ? 'v' : there;
}

function resolved(table: PrintedTable, letter: Letter, aql: Aql): string {
  if (cell(table.type, table.severity, letter, aql) === null) return '-';
  const { plan } = planAtLetter({ letter, aql, severity: table.severity, type: table.type, lotSize: 2 ** 53 });
  return `${plan.letter} ${figures(plan)}`;
}

/** The cells that docs/sampling.md lists under the heading of a table. */
function listedInDocs(table: string): string[] {
  const section = readFileSync('docs/sampling.md', 'utf8').split(`### Table ${table}\n`)[1]?.split('###')[0] ?? '';
  const rows = [...section.matchAll(/^\| ([A-S]) \| (.*) \|$/gm)];
  return rows.flatMap(([, letter, aqls]) => aqls!.split(', ').map((aql) => `${letter} ${aql}`));
}

describe('the tables of ISO 2859-1:1999 (RC-6)', () => {
  it('has the AQLs and levels of the standard', () => {
    expect(AQLS.join(' ')).toBe(printed.aqls);
    expect(LEVELS.join(' ')).toBe(printed.codeLetters.levels);
  });

  it('gives every code letter of Table 1, at both ends of every row', () => {
    const letters = (lotSize: number): string => LEVELS.map((level: Level) => codeLetter(lotSize, level)).join(' ');
    for (const row of printed.codeLetters.rows) {
      const [min, max, ...expected] = row.split(' ');
      expect(`${min} ${letters(Number(min))}`).toBe(`${min} ${expected.join(' ')}`);
      expect(letters(max === '-' ? 2 ** 53 : Number(max))).toBe(expected.join(' '));
    }
    expect(printed.codeLetters.rows).toHaveLength(15);
  });

  it.each(printed.tables.map((table) => [table.table, table] as const))('gives every cell of Table %s', (_name, table) => {
    expect(rowsOf(table).join(' ')).toBe(Object.keys(table.cells).join(' '));
    let compared = 0;
    for (const letter of rowsOf(table)) {
      expect(`${letter}: ${AQLS.map((aql) => asPrinted(table, letter, aql)).join(', ')}`).toBe(`${letter}: ${table.cells[letter]}`);
      expect(`${letter}: ${AQLS.map((aql) => resolved(table, letter, aql)).join(', ')}`).toBe(`${letter}: ${table.plans[letter]}`);
      compared += AQLS.length;
    }
    expect(compared).toBe(table.severity === 'tightened' ? 442 : 416);
  });

  it.each(printed.tables.map((table) => [table.table, table] as const))('gives the sample sizes of Table %s', (_name, table) => {
    const sizes = rowsOf(table).flatMap((letter) => {
      const plan = AQLS.map((aql) => cell(table.type, table.severity, letter, aql)).find(
        (there) => there !== null && typeof there === 'object',
      );
      return plan ? [`${letter} ${isDouble(plan) ? plan.n1 : plan.n}`] : [];
    });
    expect(sizes.join(' ')).toBe(table.n);
  });

  it.each(printed.tables.map((table) => [table.table, table] as const))(
    'says of Table %s which cells are not verified, and of no other',
    (_name, table) => {
      const open = rowsOf(table).flatMap((letter) =>
        AQLS.filter((aql) => whyUnverified(table.type, table.severity, letter, aql) !== null).map((aql) => `${letter} ${aql}`),
      );
      expect(new Set(open)).toEqual(table.notGated === '' ? new Set() : notGated(table));
    },
  );

  it.each(printed.tables.map((table) => [table.table, table] as const))(
    'says it in the answer where Table %s is looked up',
    (_name, table) => {
      const open = table.notGated === '' ? new Set<string>() : notGated(table);
      for (const letter of rowsOf(table)) {
        for (const aql of AQLS) {
          if (cell(table.type, table.severity, letter, aql) === null) continue;
          const found = planAtLetter({ letter, aql, severity: table.severity, type: table.type, lotSize: 2 ** 53 });
          const expected = open.has(`${letter} ${aql}`) || open.has(`${found.plan.letter} ${aql}`);
          expect([letter, aql, found.unverified !== null]).toEqual([letter, aql, expected]);
        }
      }
    },
  );

  it('lists in the docs what stays unverified', () => {
    for (const table of printed.tables) {
      const expected = table.notGated === '' || table.notGated === 'all' ? new Set() : notGated(table);
      expect([table.table, new Set(listedInDocs(table.table))]).toEqual([table.table, expected]);
    }
    expect(readFileSync('docs/sampling.md', 'utf8')).toMatch(/### Table 3-C\n\nEvery cell/);
  });
});
