import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, instant, integer, text } from '../../platform/database/columns.js';
import type { AttachedAs, MediaType } from './files.facts.js';

@Entity('stored_file')
export class StoredFileRow {
  @PrimaryColumn(code('sha256'))
  sha256: string;

  @Column(text('name'))
  name: string;

  @Column(code('media_type'))
  mediaType: MediaType;

  @Column(integer('bytes'))
  bytes: number;

  /** Entry that says it is stored. */
  @Column(integer('since_seq'))
  sinceSeq: number;
}

@Entity('lot_file')
@Index('ix_lot_file_lot', ['lot'])
export class LotFileRow {
  /** Entry of the attachment, which is its number. */
  @PrimaryColumn(integer('seq'))
  attachment: number;

  @Column(code('lot'))
  lot: string;

  @Column(code('sha256'))
  sha256: string;

  @Column(code('what'))
  what: AttachedAs;

  @Column(text('note', { nullable: true }))
  note: string | null;

  @Column(code('attached_by'))
  attachedBy: string;

  @Column(instant('attached_at'))
  attachedAt: string;

  @Column(integer('detached_seq', { nullable: true }))
  detachedSeq: number | null;

  @Column(code('detached_by', { nullable: true }))
  detachedBy: string | null;

  @Column(instant('detached_at', { nullable: true }))
  detachedAt: string | null;

  @Column(text('detach_reason', { nullable: true }))
  detachReason: string | null;
}
