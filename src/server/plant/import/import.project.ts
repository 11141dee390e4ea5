import type { EntityManager } from 'typeorm';
import { canonicalJson } from '../../../../shared/canonical-json.js';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows } from '../../platform/database/rows.js';
import type { ImportFinished } from './import.facts.js';

export const projectImport = {
  async ImportFinished(tx: EntityManager, { seq, at, actor, fact }: Recorded<ImportFinished>): Promise<void> {
    await insertRows(tx, 'import', ['code', 'at', 'by', 'seq', 'counts'], [[fact.import, at, actor, seq, canonicalJson(fact.counts)]]);
    await insertRows(
      tx,
      'import_file',
      ['import', 'file', 'rows', 'sha256'],
      fact.files.map((read) => [fact.import, read.file, read.rows, read.sha256]),
    );
  },
};
