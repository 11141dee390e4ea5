import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, flag, instant, integer, micro, text } from '../../platform/database/columns.js';

@Entity('goods_return')
@Index('ix_goods_return_customer', ['customer'])
export class GoodsReturn {
  @PrimaryColumn(code('code'))
  returned: string;

  @Column(code('customer'))
  customer: string;

  @Column(code('document_type'))
  documentType: string;

  @Column(code('document'))
  document: string;

  @Column(instant('returned_at'))
  returnedAt: string;

  @Column(code('location'))
  location: string;

  @Column(text('condition'))
  condition: string;

  @Column(text('note', { nullable: true }))
  note: string | null;

  @Column(integer('booked_seq'))
  bookedSeq: number;

  /** Entry that says the return was booked in error. */
  @Column(integer('reversed_seq', { nullable: true }))
  reversedSeq: number | null;

  @Column(text('reverse_reason', { nullable: true }))
  reverseReason: string | null;
}

/** What came back of one lot and one shipment: who had the pieces stays known when they go out again. */
@Entity('return_line')
@Index('ix_return_line_lot', ['lotId'])
@Index('ix_return_line_shipment', ['shipment'])
export class ReturnLineRow {
  @PrimaryColumn(code('return_code'))
  returned: string;

  @PrimaryColumn(integer('line'))
  line: number;

  @Column(integer('lot_id'))
  lotId: number;

  /** Span set that came back, null for a bulk lot. */
  @Column(text('spans', { nullable: true }))
  spans: string | null;

  @Column(micro('quantity'))
  quantityMicro: number;

  @Column(code('shipment'))
  shipment: string;

  @Column(flag('shipment_named'))
  shipmentNamed: boolean;

  /** Bulk: the lot it now is. */
  @Column(code('becomes', { nullable: true }))
  becomes: string | null;
}
