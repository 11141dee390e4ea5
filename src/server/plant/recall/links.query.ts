import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';

/** In which making step links were recorded, by `seq.ord`, as `filling RUN-0031`. */
export async function runsOfLinks(
  from: EntityManager,
  links: readonly { readonly seq: number; readonly ord: number }[],
): Promise<Map<string, string>> {
  const found = new Map<string, string>();
  const bySeq = new Map<number, number[]>();
  for (const { seq, ord } of links) bySeq.set(seq, [...(bySeq.get(seq) ?? []), ord]);
  for (const [seq, ords] of bySeq) {
    const rows = await queryRows<{ ord: number; run: string; kind: string }>(
      from,
      `SELECT "ord", "run", "kind" FROM "link" WHERE "seq" = ? AND "ord" IN (${ords.join(',')})`,
      [seq],
    );
    for (const row of rows) found.set(`${seq}.${row.ord}`, `${row.kind} ${row.run}`);
  }
  return found;
}
