import type { EntityManager } from 'typeorm';
import { canonicalJson } from '../../../../shared/canonical-json.js';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows, queryRows } from '../../platform/database/rows.js';
import type { CatalogueBroughtOver, CatalogueRevised } from './catalogue.facts.js';

export const projectCatalogue = {
  async CatalogueRevised(tx: EntityManager, { seq, fact }: Recorded<CatalogueRevised>): Promise<void> {
    await queryRows(tx, 'UPDATE "catalogue_record" SET "until_seq" = ? WHERE "what" = ? AND "code" = ? AND "until_seq" IS NULL', [
      seq,
      fact.what,
      fact.record.code,
    ]);
    await insertRecords(tx, seq, [fact]);
  },

  async CatalogueBroughtOver(tx: EntityManager, { seq, fact }: Recorded<CatalogueBroughtOver>): Promise<void> {
    await insertRecords(tx, seq, fact.records);
  },
};

const insertRecords = (tx: EntityManager, seq: number, records: CatalogueBroughtOver['records']): Promise<void> =>
  insertRows(
    tx,
    'catalogue_record',
    ['what', 'code', 'revision', 'since_seq', 'record'],
    records.map(({ what, revision, record }) => [what, record.code, revision, seq, canonicalJson(record)]),
  );
