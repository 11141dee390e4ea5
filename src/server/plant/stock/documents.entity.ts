import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, instant, integer, text } from '../../platform/database/columns.js';

/** A move, count, scrapping, retain sample, test, return to the supplier, or correction of one of these. */
@Entity('stock_document')
@Index('ix_stock_document_lot', ['lotId'])
@Index('ix_stock_document_seq', ['seq'])
export class StockDocument {
  @PrimaryColumn(code('code'))
  document: string;

  @Column({ name: 'kind', type: 'varchar', length: 24 })
  kind: string;

  @Column(integer('lot_id'))
  lotId: number;

  @Column(integer('seq'))
  seq: number;

  @Column(instant('at'))
  at: string;

  @Column(code('by'))
  by: string;

  @Column(text('reason', { nullable: true }))
  reason: string | null;

  /** Evidence, the supplier's paper, or what was counted: what the document says beside its reason. */
  @Column(text('evidence', { nullable: true }))
  evidence: string | null;

  /** The movements it made, as JSON. */
  @Column(text('moved'))
  moved: string;

  /** Entry that this document puts right. */
  @Column(integer('corrects_seq', { nullable: true }))
  correctsSeq: number | null;

  /** Entry by which this document was put right. */
  @Column(integer('corrected_seq', { nullable: true }))
  correctedSeq: number | null;
}
