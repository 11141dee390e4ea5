import type { EntityManager } from 'typeorm';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { RecordFacts } from '../commands.js';
import { decideCallingOff } from './calling-off.decide.js';

/** A document that was booked in error. */
interface BookedInError {
  /** Delivery or return. */
  readonly source: string;
  /** Lots that it had brought into being, none of which were ever there. */
  readonly lots: readonly string[];
  readonly reason: string;
}

/**
 * Records, in the command that puts a document right, that the inspections opened for it, and any others of the lots that never came,
 * are called off.
 * @see docs/rules/inspection.md IN-36
 */
export async function callOffInspections(tx: EntityManager, record: RecordFacts, { source, lots, reason }: BookedInError): Promise<void> {
  const open = `"state" IN ('waiting', 'begun')`;
  const opened = await queryRows<{ code: string }>(tx, `SELECT "code" FROM "inspection" WHERE "source" = ? AND ${open}`, [source]);
  const others = await selectIn<{ code: string }>(tx, `SELECT "code" FROM "inspection" WHERE ${open} AND "lot" IN (:list)`, lots);
  const codes = [...new Set([...opened, ...others].map((row) => row.code))].toSorted();
  if (codes.length > 0) await record(decideCallingOff(codes, `${source} was booked in error: ${reason}`));
}
