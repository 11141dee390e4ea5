import type { EntityManager } from 'typeorm';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { FoundSerial } from './fitting.decide.js';

/** Where pieces with these serials are in the record. */
export async function findSerials(
  tx: EntityManager,
  asked: readonly { readonly item: string; readonly serials: readonly string[] }[],
): Promise<FoundSerial[]> {
  const items = new Set(asked.map((one) => one.item));
  const rows = await selectIn<FoundSerial>(
    tx,
    `SELECT s."item", s."serial", l."code" AS "lot", s."piece" FROM "serial" s JOIN "lot" l ON l."id" = s."lot_id" WHERE s."serial" IN (:list)`,
    [...new Set(asked.flatMap((one) => one.serials))],
  );
  return rows.filter((row) => items.has(row.item));
}

/** Serials of the item among these that exist already. */
export async function takenSerials(tx: EntityManager, item: string, serials: readonly string[]): Promise<string[]> {
  const found = await findSerials(tx, [{ item, serials }]);
  return found.map((row) => row.serial).toSorted();
}

/** Splits `K-{n:5}` into what stands before and after the number, and its width. */
function partsOf(pattern: string): { before: string; after: string; width: number } | null {
  const match = /^(.*?)\{n:(\d+)\}(.*)$/.exec(pattern);
  return match ? { before: match[1]!, width: Number(match[2]), after: match[3]! } : null;
}

const PAGE = 500;

/** The next `count` serials of an item by its pattern: they follow the largest number in use. Null for a pattern without a number. */
export async function nextSerials(tx: EntityManager, item: string, pattern: string | undefined, count: number): Promise<string[] | null> {
  const parts = pattern === undefined ? null : partsOf(pattern);
  if (!parts) return null;
  const last = await largestNumber(tx, item, parts);
  return Array.from({ length: count }, (_, i) => `${parts.before}${String(last + 1 + i).padStart(parts.width, '0')}${parts.after}`);
}

/** Longest first, then by code, so the first that has the pattern has the largest number; serials of another form are passed over. */
async function largestNumber(tx: EntityManager, item: string, { before, after }: { before: string; after: string }): Promise<number> {
  for (let offset = 0; ; offset += PAGE) {
    const rows = await queryRows<{ serial: string }>(
      tx,
      `SELECT "serial" FROM "serial" WHERE "item" = ? ORDER BY length("serial") DESC, "serial" DESC LIMIT ${PAGE} OFFSET ${offset}`,
      [item],
    );
    for (const { serial } of rows) {
      if (!serial.startsWith(before) || !serial.endsWith(after)) continue;
      const digits = serial.slice(before.length, serial.length - after.length);
      if (/^\d{1,15}$/.test(digits)) return Number(digits);
    }
    if (rows.length < PAGE) return 0;
  }
}
