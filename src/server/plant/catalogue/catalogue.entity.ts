import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, integer, text } from '../../platform/database/columns.js';
import type { CatalogueKind } from './catalogue.facts.js';

/** One revision of an item, party, vessel, line, location, recipe or bill of materials. */
@Entity('catalogue_record')
@Index('ix_catalogue_current', ['what', 'untilSeq'])
export class CatalogueRecord {
  @PrimaryColumn({ name: 'what', type: 'varchar', length: 16 })
  what: CatalogueKind;

  @PrimaryColumn(code('code'))
  code: string;

  @PrimaryColumn(integer('revision'))
  revision: number;

  @Column(integer('since_seq'))
  sinceSeq: number;

  @Column(integer('until_seq', { nullable: true }))
  untilSeq: number | null;

  /** The record itself, as JSON. */
  @Column(text('record'))
  record: string;
}
