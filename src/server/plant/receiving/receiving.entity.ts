import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, flag, instant, integer, text } from '../../platform/database/columns.js';

@Entity('delivery')
@Index('ix_delivery_supplier', ['supplier'])
export class Delivery {
  @PrimaryColumn(code('code'))
  delivery: string;

  @Column(code('supplier'))
  supplier: string;

  @Column(code('document_type'))
  documentType: string;

  @Column(code('document'))
  document: string;

  @Column(instant('received_at'))
  receivedAt: string;

  @Column(code('location'))
  location: string;

  @Column(text('condition'))
  condition: string;

  @Column(text('note', { nullable: true }))
  note: string | null;

  @Column(integer('booked_seq'))
  bookedSeq: number;

  /** Entry that says the delivery was booked in error. */
  @Column(integer('reversed_seq', { nullable: true }))
  reversedSeq: number | null;

  @Column(text('reverse_reason', { nullable: true }))
  reverseReason: string | null;
}

@Entity('delivery_line')
@Index('ix_delivery_line_lot', ['lot'])
export class DeliveryLineRow {
  @PrimaryColumn(code('delivery'))
  delivery: string;

  @PrimaryColumn(integer('line'))
  line: number;

  @Column(code('lot'))
  lot: string;

  @Column(integer('containers', { nullable: true }))
  containers: number | null;

  /** Lot codes of earlier arrivals of the same supplier lot, as JSON. */
  @Column(text('earlier'))
  earlier: string;

  @Column(flag('expired_on_arrival'))
  expiredOnArrival: boolean;
}
