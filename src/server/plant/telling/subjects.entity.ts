import { Entity, PrimaryColumn } from 'typeorm';
import { code, integer } from '../../platform/database/columns.js';
import type { SubjectKind } from './subjects.js';

/** An entry names a record: what `GET /api/ledger/about` looks up. */
@Entity('entry_subject')
export class EntrySubject {
  @PrimaryColumn({ name: 'kind', type: 'varchar', length: 16 })
  kind: SubjectKind;

  @PrimaryColumn(code('code'))
  code: string;

  @PrimaryColumn(integer('seq'))
  seq: number;
}
