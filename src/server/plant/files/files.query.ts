import type { EntityManager } from 'typeorm';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import type { AttachFile, Attachment, AttachState } from './files.decide.js';
import type { LotFileView, StoredFileView } from './files.dto.js';
import type { AttachedAs, MediaType } from './files.facts.js';

/** Those of the hashes under which a file is stored. */
export async function knownFiles(tx: EntityManager, hashes: readonly string[]): Promise<Set<string>> {
  const rows = await selectIn<{ sha256: string }>(tx, 'SELECT "sha256" FROM "stored_file" WHERE "sha256" IN (:list)', [...new Set(hashes)]);
  return new Set(rows.map((row) => row.sha256));
}

interface FileRow {
  sha256: string;
  name: string;
  media_type: MediaType;
  bytes: number;
}

const fileView = (row: FileRow): StoredFileView => ({ sha256: row.sha256, name: row.name, mediaType: row.media_type, bytes: row.bytes });

export async function storedFile(tx: EntityManager, sha256: string): Promise<StoredFileView | undefined> {
  const [row] = await queryRows<FileRow>(tx, 'SELECT * FROM "stored_file" WHERE "sha256" = ?', [sha256]);
  return row && fileView(row);
}

/** Every stored file, in order of its hash. */
export async function storedFiles(tx: EntityManager): Promise<StoredFileView[]> {
  const rows = await queryRows<FileRow>(tx, 'SELECT * FROM "stored_file"');
  return rows.map(fileView).toSorted((a, b) => (a.sha256 < b.sha256 ? -1 : 1));
}

const lotExists = async (tx: EntityManager, lot: string): Promise<boolean> =>
  (await queryRows(tx, 'SELECT 1 AS "one" FROM "lot" WHERE "code" = ?', [lot])).length > 0;

export async function attachState(tx: EntityManager, { lot, file }: AttachFile): Promise<AttachState> {
  return {
    lotExists: await lotExists(tx, lot),
    file: await storedFile(tx, file),
    standing: await queryRows<{ attachment: number; what: AttachedAs }>(
      tx,
      `SELECT "seq" AS "attachment", "what" FROM "lot_file" WHERE "lot" = ? AND "sha256" = ? AND "detached_seq" IS NULL ORDER BY "seq"`,
      [lot, file],
    ),
  };
}

export async function attachmentOf(tx: EntityManager, lot: string, seq: number): Promise<Attachment | undefined> {
  const [row] = await queryRows<Attachment>(
    tx,
    `SELECT a."seq" AS "attachment", a."lot", a."sha256", f."name", a."detached_seq" AS "detachedSeq"
     FROM "lot_file" a JOIN "stored_file" f ON f."sha256" = a."sha256" WHERE a."lot" = ? AND a."seq" = ?`,
    [lot, seq],
  );
  return row;
}

interface AttachmentRow extends FileRow {
  seq: number;
  what: AttachedAs;
  note: string | null;
  attached_by: string;
  attached_at: string;
  detached_seq: number | null;
  detached_by: string | null;
  detached_at: string | null;
  detach_reason: string | null;
}

/** What belongs, or was wrongly said to belong, to a lot, in order of recording; undefined when there is no such lot. */
export async function lotFiles(tx: EntityManager, lot: string): Promise<LotFileView[] | undefined> {
  if (!(await lotExists(tx, lot))) return undefined;
  const rows = await queryRows<AttachmentRow>(
    tx,
    `SELECT a.*, f."name", f."media_type", f."bytes" FROM "lot_file" a JOIN "stored_file" f ON f."sha256" = a."sha256"
     WHERE a."lot" = ? ORDER BY a."seq"`,
    [lot],
  );
  return rows.map((row) => ({
    attachment: row.seq,
    ...fileView(row),
    what: row.what,
    note: row.note,
    by: row.attached_by,
    at: row.attached_at,
    detached:
      row.detached_seq === null
        ? null
        : { seq: row.detached_seq, reason: row.detach_reason ?? '', by: row.detached_by ?? '', at: row.detached_at ?? '' },
  }));
}
