import type { EntityManager } from 'typeorm';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { ItemClass } from '../catalogue/catalogue.facts.js';

const CLASS_LETTER: Readonly<Record<ItemClass, string>> = {
  'raw-material': 'R',
  packaging: 'P',
  component: 'C',
  mixture: 'B',
  filled: 'F',
  assembled: 'U',
};

/** Fills `{class}`, `{yy}`, `{yyyy}`, `{mm}` and `{n:digits}` in a code pattern. */
function fillPattern(pattern: string, parts: { readonly class: ItemClass; readonly at: string; readonly n: number }): string {
  return pattern
    .replaceAll('{class}', CLASS_LETTER[parts.class])
    .replaceAll('{yyyy}', parts.at.slice(0, 4))
    .replaceAll('{yy}', parts.at.slice(2, 4))
    .replaceAll('{mm}', parts.at.slice(5, 7))
    .replace(/\{n:(\d+)\}/, (_, digits: string) => String(parts.n).padStart(Number(digits), '0'));
}

/**
 * Free plant lot codes for lots about to be born, by the configured pattern; never one that is taken, by hand or by an import.
 * The write lock must be held, else two commands could be given the same code.
 */
export async function nextLotCodes(tx: EntityManager, pattern: string, classes: readonly ItemClass[], at: string): Promise<string[]> {
  const [{ last }] = (await queryRows<{ last: number }>(tx, 'SELECT coalesce(max("id"), 0) AS "last" FROM "lot"')) as [{ last: number }];
  const codes: string[] = [];
  let n = last;
  for (const itemClass of classes) {
    let code: string;
    do code = fillPattern(pattern, { class: itemClass, at, n: ++n });
    while (await taken(tx, code));
    codes.push(code);
  }
  return codes;
}

const taken = async (tx: EntityManager, code: string): Promise<boolean> =>
  (await selectIn(tx, 'SELECT 1 AS "one" FROM "lot" WHERE "code" IN (:list)', [code])).length > 0;

/**
 * The next free document number of a series, as `H-0007`: one more than the largest so far in `table`.`code`.
 * Numbers typed by hand or imported in another form are left aside.
 */
export const nextDocument = async (tx: EntityManager, table: string, prefix: string): Promise<string> =>
  (await nextDocuments(tx, table, prefix, 1))[0]!;

/** The next `n` free numbers of a series, in order. */
export async function nextDocuments(tx: EntityManager, table: string, prefix: string, n: number): Promise<string[]> {
  const rows = await queryRows<{ code: string }>(
    tx,
    `SELECT "code" FROM "${table}" WHERE "code" LIKE ? ORDER BY length("code") DESC, "code" DESC LIMIT 50`,
    [`${prefix}-%`],
  );
  const largest = rows.map((row) => new RegExp(`^${prefix}-(\\d+)$`).exec(row.code)?.[1]).find((digits) => digits !== undefined);
  return Array.from({ length: n }, (_, i) => `${prefix}-${String(Number(largest ?? 0) + 1 + i).padStart(4, '0')}`);
}
