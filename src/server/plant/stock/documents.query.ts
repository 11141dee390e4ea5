import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { formatSpans } from '../../../../shared/spans.js';
import { queryRows } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import type { Location, Revised } from '../catalogue/catalogue.facts.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { nextDocument } from './codes.query.js';
import type { EarlierDocument } from './corrections.decide.js';
import type { StockState } from './documents.decide.js';
import type { StockDocumentView } from './documents.dto.js';
import type { Movement } from './effects.facts.js';
import { lotStates } from './lot-state.query.js';

interface Row {
  code: string;
  kind: string;
  lot: string;
  seq: number;
  at: string;
  by: string;
  reason: string | null;
  evidence: string | null;
  moved: string;
  corrects_seq: number | null;
  corrected_seq: number | null;
}

const DOCUMENTS = 'SELECT d.*, l."code" AS "lot" FROM "stock_document" d JOIN "lot" l ON l."id" = d."lot_id"';

export async function stockState(
  tx: EntityManager,
  lineage: Lineage,
  asked: { readonly series: string; readonly lot: string; readonly places: readonly string[]; readonly at: string },
): Promise<StockState> {
  const places = new Map<string, Revised<Location> | 'vessel'>(await catalogueByCode(tx, 'location', asked.places));
  for (const vessel of (await catalogueByCode(tx, 'vessel', asked.places)).keys()) places.set(vessel, 'vessel');
  return {
    document: await nextDocument(tx, 'stock_document', asked.series),
    lot: (await lotStates(tx, lineage, [{ lot: asked.lot, spans: null }])).get(asked.lot),
    on: asked.at.slice(0, 10),
    places,
  };
}

export async function earlierDocument(tx: EntityManager, document: string): Promise<EarlierDocument | undefined> {
  const [row] = await queryRows<Row>(tx, `${DOCUMENTS} WHERE d."code" = ?`, [document]);
  return (
    row && {
      document: row.code,
      kind: row.kind,
      seq: row.seq,
      lot: row.lot,
      correctedSeq: row.corrected_seq,
      moved: JSON.parse(row.moved) as Movement[],
    }
  );
}

export async function stockDocument(from: EntityManager, document: string): Promise<StockDocumentView | undefined> {
  const [row] = await queryRows<Row>(from, `${DOCUMENTS} WHERE d."code" = ?`, [document]);
  return row && viewOf(row);
}

/** Documents, newest first; only those of one lot, if named. */
export async function stockDocuments(from: EntityManager, lot: string | undefined, limit: number): Promise<StockDocumentView[]> {
  const rows = await queryRows<Row>(from, `${DOCUMENTS}${lot === undefined ? '' : ' WHERE l."code" = ?'} ORDER BY d."seq" DESC LIMIT ?`, [
    ...(lot === undefined ? [] : [lot]),
    limit,
  ]);
  return rows.map(viewOf);
}

const viewOf = (row: Row): StockDocumentView => ({
  document: row.code,
  kind: row.kind,
  lot: row.lot,
  seq: row.seq,
  at: row.at,
  by: row.by,
  reason: row.reason,
  evidence: row.evidence,
  moved: (JSON.parse(row.moved) as Movement[]).map((movement) => ({
    pieces: movement.spans === null ? null : formatSpans(movement.spans),
    quantity: formatQuantity(movement.quantityMicro),
    fromFate: movement.from.fate,
    fromAt: movement.from.at,
    toFate: movement.to.fate,
    toAt: movement.to.at,
  })),
  correctsSeq: row.corrects_seq,
  correctedSeq: row.corrected_seq,
});
