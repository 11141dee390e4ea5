import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, instant, integer, micro, text } from '../../platform/database/columns.js';

/** A part that was fitted in a unit until it was replaced. The link that fitted it is not voided. */
@Entity('part_replaced')
@Index('ix_part_replaced_unit', ['unitLot', 'unitPiece'])
@Index('ix_part_replaced_old', ['oldLot'])
export class PartReplacedRow {
  @PrimaryColumn(integer('seq'))
  seq: number;

  @Column(code('run'))
  run: string;

  @Column(code('unit_lot'))
  unitLot: string;

  @Column(integer('unit_piece'))
  unitPiece: number;

  @Column(code('item'))
  item: string;

  @Column(code('old_lot'))
  oldLot: string;

  @Column(integer('old_piece', { nullable: true }))
  oldPiece: number | null;

  @Column(micro('old_quantity'))
  oldMicro: number;

  @Column(code('new_lot'))
  newLot: string;

  @Column(integer('new_piece', { nullable: true }))
  newPiece: number | null;

  @Column(micro('new_quantity'))
  newMicro: number;

  @Column(instant('at'))
  at: string;

  @Column(code('by'))
  by: string;

  @Column(text('reason'))
  reason: string;

  @Column(code('location', { nullable: true }))
  location: string | null;
}
