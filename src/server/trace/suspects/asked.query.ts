import type { EntityManager } from 'typeorm';
import { selectIn } from '../../platform/database/rows.js';
import type { KnownPieces, SuspectsQuestion } from './asked.js';

/** The lots and serials a question names, as far as they were known at entry `seq`. */
export async function knownPieces(from: EntityManager, { population, failed }: SuspectsQuestion, seq: number): Promise<KnownPieces> {
  const named = new Set([...population, ...failed].flatMap(({ lot }) => (lot === undefined ? [] : [lot])));
  const serials = await selectIn<{ item: string; serial: string; piece: number; code: string }>(
    from,
    `SELECT s."item", s."serial", s."piece", l."code" FROM "serial" s JOIN "lot" l ON l."id" = s."lot_id"
     WHERE l."born_seq" <= ${seq} AND s."serial" IN (:list)`,
    [...new Set(failed.flatMap(({ serial }) => (serial === undefined ? [] : [serial])))],
  );
  const bySerial = new Map<string, { item: string; lot: string; piece: number }[]>();
  for (const { item, serial, piece, code } of serials.toSorted((a, b) => (a.item < b.item ? -1 : 1))) {
    bySerial.set(serial, [...(bySerial.get(serial) ?? []), { item, lot: code, piece }]);
    named.add(code);
  }
  const lots = await selectIn<{ id: number; code: string; pieces: number | null }>(
    from,
    `SELECT "id", "code", "pieces" FROM "lot" WHERE "born_seq" <= ${seq} AND "code" IN (:list)`,
    [...named],
  );
  return { lots: new Map(lots.map(({ id, code, pieces }) => [code, { id, pieces }])), serials: bySerial };
}
