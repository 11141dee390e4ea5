import { Column, Entity, PrimaryColumn } from 'typeorm';
import { integer, text } from '../../platform/database/columns.js';

/** The plant's review rule since an entry; the one before it holds for what was proposed before. */
@Entity('review_rule')
export class ReviewRuleRow {
  @PrimaryColumn(integer('since_seq'))
  sinceSeq: number;

  /** Kind of disposition to the functions that must sign and the signers in all, as JSON. */
  @Column(text('rule'))
  rule: string;

  @Column(text('reason'))
  reason: string;
}
