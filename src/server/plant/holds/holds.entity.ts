import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, flag, instant, integer, micro, text } from '../../platform/database/columns.js';

/** A stop on a lot, on spans of it, or on a quantity of a bulk lot. */
@Entity('hold')
@Index('ix_hold_lot', ['lotId'])
@Index('ix_hold_lifted', ['liftedSeq'])
export class Hold {
  @PrimaryColumn(code('code'))
  hold: string;

  /** A hold on several lots has one row for each. */
  @PrimaryColumn(integer('lot_id'))
  lotId: number;

  /** Span set held, null for the whole of a bulk lot. */
  @Column(text('spans', { nullable: true }))
  spans: string | null;

  /** Part of a bulk lot that is held; null when all of it is. Such a hold cannot reach descendants. */
  @Column(micro('quantity', { nullable: true }))
  quantityMicro: number | null;

  /** Whether what was made from it is stopped too. */
  @Column(flag('reaches'))
  reaches: boolean;

  @Column(text('reason'))
  reason: string;

  /** Who owns the hold and is asked about it. */
  @Column(code('owner'))
  owner: string;

  @Column(instant('placed_at'))
  placedAt: string;

  @Column(integer('placed_seq'))
  placedSeq: number;

  @Column(integer('lifted_seq', { nullable: true }))
  liftedSeq: number | null;

  @Column(text('lift_reason', { nullable: true }))
  liftReason: string | null;
}

/** A signed decision to use a lot before it is released, or although it is expired or held. Open until closed. */
@Entity('urgent_release')
@Index('ix_urgent_release_lot', ['lotId'])
export class UrgentRelease {
  @PrimaryColumn(code('code'))
  urgentRelease: string;

  @Column(integer('lot_id'))
  lotId: number;

  /** Span set it covers, null for the whole of a bulk lot. */
  @Column(text('spans', { nullable: true }))
  spans: string | null;

  /** What it sets aside, comma-separated: `quarantine`, `expired`, `held`. */
  @Column({ name: 'sets_aside', type: 'varchar', length: 64 })
  setsAside: string;

  @Column(text('reason'))
  reason: string;

  @Column(code('signed_by'))
  signedBy: string;

  @Column(integer('opened_seq'))
  openedSeq: number;

  @Column(integer('closed_seq', { nullable: true }))
  closedSeq: number | null;

  @Column(text('close_reason', { nullable: true }))
  closeReason: string | null;
}
