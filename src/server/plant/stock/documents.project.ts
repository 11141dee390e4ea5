import type { EntityManager } from 'typeorm';
import { canonicalJson } from '../../../../shared/canonical-json.js';
import { formatQuantity } from '../../../../shared/quantity.js';
import { formatSpans } from '../../../../shared/spans.js';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows, queryRows } from '../../platform/database/rows.js';
import type { StockCorrected, StockFact } from './documents.facts.js';
import { lotIds } from './lot-ids.query.js';

type StockProjector = (tx: EntityManager, entry: Recorded<StockFact>) => Promise<void>;

const keep: StockProjector = async (tx, { seq, at, actor, fact }) => {
  const lotId = (await lotIds(tx, [fact.lot])).get(fact.lot)!;
  await insertRows(
    tx,
    'stock_document',
    ['code', 'kind', 'lot_id', 'seq', 'at', 'by', 'reason', 'evidence', 'moved', 'corrects_seq'],
    [
      [
        fact.document,
        fact.kind,
        lotId,
        seq,
        at,
        actor,
        fact.reason ?? null,
        evidenceOf(fact),
        canonicalJson(fact.moved ?? []),
        fact.kind === 'StockCorrected' ? fact.corrects : null,
      ],
    ],
  );
};

function evidenceOf(fact: StockFact): string | null {
  switch (fact.kind) {
    case 'StockScrapped':
    case 'DestroyedInTest':
      return fact.evidence ?? null;
    case 'ReturnedToSupplier':
      return `${fact.supplierDocument} to ${fact.supplier}`;
    case 'StockCounted': {
      const found = fact.countedSpans === null ? formatQuantity(fact.countedMicro) : formatSpans(fact.countedSpans) || 'no pieces';
      return `counted ${found} at ${fact.location}`;
    }
    case 'StockCorrected':
      return `puts right ${fact.correctsDocument}`;
    default:
      return null;
  }
}

const correct = async (tx: EntityManager, entry: Recorded<StockCorrected>): Promise<void> => {
  await keep(tx, entry);
  await queryRows(tx, 'UPDATE "stock_document" SET "corrected_seq" = ? WHERE "seq" = ?', [entry.seq, entry.fact.corrects]);
};

export const projectStockDocuments = {
  StockMoved: keep,
  StockCounted: keep,
  StockScrapped: keep,
  SampleRetained: keep,
  SampleTakenBack: keep,
  DestroyedInTest: keep,
  ReturnedToSupplier: keep,
  StockCorrected: correct,
};
