import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, instant, integer, text } from '../../platform/database/columns.js';

/** A folder of older records that was brought over. */
@Entity('import')
export class ImportRow {
  @PrimaryColumn(code('code'))
  import: string;

  @Column(instant('at'))
  at: string;

  @Column(code('by'))
  by: string;

  /** Its last entry. */
  @Column(integer('seq'))
  seq: number;

  /** How much of each, as JSON. */
  @Column(text('counts'))
  counts: string;
}

/** A file of such a folder; its hash tells when the same file comes again. */
@Entity('import_file')
@Index('ix_import_file_sha256', ['sha256'])
export class ImportFileRow {
  @PrimaryColumn(code('import'))
  import: string;

  @PrimaryColumn(code('file'))
  file: string;

  @Column(integer('rows'))
  rows: number;

  @Column(code('sha256'))
  sha256: string;
}
