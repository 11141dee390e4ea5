import type { EntityManager } from 'typeorm';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows, queryRows } from '../../platform/database/rows.js';
import type { FileAttached, FileDetached, FileStored } from './files.facts.js';

export const projectFiles = {
  async FileStored(tx: EntityManager, { seq, fact }: Recorded<FileStored>): Promise<void> {
    await insertRows(
      tx,
      'stored_file',
      ['sha256', 'name', 'media_type', 'bytes', 'since_seq'],
      [[fact.sha256, fact.name, fact.mediaType, fact.bytes, seq]],
    );
  },

  async FileAttached(tx: EntityManager, { seq, at, actor, fact }: Recorded<FileAttached>): Promise<void> {
    await insertRows(
      tx,
      'lot_file',
      ['seq', 'lot', 'sha256', 'what', 'note', 'attached_by', 'attached_at'],
      [[seq, fact.lot, fact.sha256, fact.what, fact.note ?? null, actor, at]],
    );
  },

  async FileDetached(tx: EntityManager, { seq, at, actor, fact }: Recorded<FileDetached>): Promise<void> {
    await queryRows(
      tx,
      'UPDATE "lot_file" SET "detached_seq" = ?, "detached_by" = ?, "detached_at" = ?, "detach_reason" = ? WHERE "seq" = ?',
      [seq, actor, at, fact.reason, fact.corrects],
    );
  },
};
