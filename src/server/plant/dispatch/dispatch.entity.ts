import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, instant, integer, micro, text } from '../../platform/database/columns.js';

@Entity('shipment')
@Index('ix_shipment_customer', ['customer'])
@Index('ix_shipment_seq', ['dispatchedSeq'])
export class ShipmentRow {
  @PrimaryColumn(code('code'))
  shipment: string;

  @Column(code('customer'))
  customer: string;

  @Column(integer('customer_revision'))
  customerRevision: number;

  @Column(code('bill_to', { nullable: true }))
  billTo: string | null;

  @Column(code('document_type', { nullable: true }))
  documentType: string | null;

  @Column(code('document', { nullable: true }))
  document: string | null;

  @Column(instant('shipped_at'))
  shippedAt: string;

  @Column(code('location', { nullable: true }))
  location: string | null;

  @Column(text('note', { nullable: true }))
  note: string | null;

  @Column(integer('dispatched_seq'))
  dispatchedSeq: number;

  /** Entry that says the shipment was recorded in error. */
  @Column(integer('reversed_seq', { nullable: true }))
  reversedSeq: number | null;

  @Column(text('reverse_reason', { nullable: true }))
  reverseReason: string | null;
}

@Entity('shipment_line')
@Index('ix_shipment_line_lot', ['lotId'])
export class ShipmentLineRow {
  @PrimaryColumn(code('shipment'))
  shipment: string;

  @PrimaryColumn(integer('line'))
  line: number;

  @Column(integer('lot_id'))
  lotId: number;

  /** Span set that went, null for a bulk lot. */
  @Column(text('spans', { nullable: true }))
  spans: string | null;

  @Column(micro('quantity'))
  quantityMicro: number;

  /** Urgent releases leant on, as JSON. */
  @Column(text('urgent_releases'))
  urgentReleases: string;

  /** Older stock passed over, as JSON. */
  @Column(text('passed_over'))
  passedOver: string;

  @Column(text('pick_reason', { nullable: true }))
  pickReason: string | null;
}
