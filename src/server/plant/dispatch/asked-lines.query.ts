import type { EntityManager } from 'typeorm';
import { selectIn } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import type { LotState } from '../stock/lot-state.facts.js';
import { lotStates } from '../stock/lot-state.query.js';
import { type AskedLine, type AskedPart, bySerial, partsAsked, type SerialPiece } from './asked-lines.facts.js';

/** A part of a lot that a line wants, with the lot as it stands; undefined if there is no such lot. */
export interface PartWithState extends AskedPart {
  readonly state: LotState | undefined;
}

/** The pieces that carry the serials the lines name. */
export async function serialPieces(tx: EntityManager, lines: readonly AskedLine[]): Promise<Map<string, SerialPiece>> {
  const serials = [...new Set(lines.flatMap((line) => line.serials ?? []))];
  const rows = await selectIn<SerialPiece>(
    tx,
    `SELECT s."item", s."serial", l."code" AS "lot", s."piece" FROM "serial" s JOIN "lot" l ON l."id" = s."lot_id"
     WHERE s."serial" IN (:list)`,
    serials,
  );
  return bySerial(rows);
}

/**
 * The lines lot by lot, each with the state of its lot. Lots that several lines want are read once a line, for what a part descends
 * from differs from part to part.
 */
export async function partsWithStates(
  tx: EntityManager,
  lineage: Lineage,
  lines: readonly AskedLine[],
  pieces: ReadonlyMap<string, SerialPiece>,
): Promise<PartWithState[]> {
  const parts = partsAsked(lines, pieces);
  const states = new Map<AskedPart, LotState | undefined>();
  for (let rest = parts; rest.length > 0;) {
    const round = [...new Map(rest.toReversed().map((part) => [part.lot, part])).values()];
    const wanted = round.map((part) => ({ lot: part.lot, spans: part.asked.spans ?? null }));
    const found = await lotStates(tx, lineage, wanted);
    for (const part of round) states.set(part, found.get(part.lot));
    rest = rest.filter((part) => !states.has(part));
  }
  return parts.map((part) => ({ ...part, state: states.get(part) }));
}
