import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, date, flag, instant, integer, micro, text } from '../../platform/database/columns.js';
import type { Fate, LotStatus, Origin, Unit } from './effects.facts.js';

/** A lot: an identified quantity of one item with one origin. Never changes; what changes stands in the tables below. */
@Entity('lot')
@Index('ix_lot_item', ['item'])
@Index('ix_lot_supplier_lot', ['supplierLot'])
@Index('ix_lot_source', ['source'])
@Index('ix_lot_born', ['bornAt'])
@Index('ix_lot_expires', ['expiresOn'])
@Index('ux_lot_code', ['lot'], { unique: true })
export class Lot {
  /** Dense, in the order lots came into being: the genealogy index counts with it. */
  @PrimaryColumn(integer('id'))
  id: number;

  @Column(code('code'))
  lot: string;

  @Column(code('item'))
  item: string;

  @Column(integer('item_revision'))
  itemRevision: number;

  @Column({ name: 'unit', type: 'varchar', length: 8 })
  unit: Unit;

  @Column(integer('pieces', { nullable: true }))
  pieces: number | null;

  @Column(micro('quantity'))
  quantityMicro: number;

  @Column({ name: 'origin', type: 'varchar', length: 16 })
  origin: Origin;

  @Column(instant('born_at'))
  bornAt: string;

  @Column(integer('born_seq'))
  bornSeq: number;

  @Column(date('made_on', { nullable: true }))
  madeOn: string | null;

  @Column(date('expires_on', { nullable: true }))
  expiresOn: string | null;

  @Column(code('supplier', { nullable: true }))
  supplier: string | null;

  @Column(code('supplier_lot', { nullable: true }))
  supplierLot: string | null;

  @Column(flag('supplier_lot_assigned'))
  supplierLotAssigned: boolean;

  @Column(code('source'))
  source: string;
}

/** A part of a lot at one place, from one entry until another. All current rows of a lot add up to it. */
@Entity('whereabout')
@Index('ix_whereabout_place', ['fate', 'at'])
@Index('ix_whereabout_since', ['sinceSeq'])
export class Whereabout {
  @PrimaryColumn(integer('lot_id'))
  lotId: number;

  @PrimaryColumn({ name: 'fate', type: 'varchar', length: 24 })
  fate: Fate;

  @PrimaryColumn(code('at'))
  at: string;

  @PrimaryColumn(integer('since_seq'))
  sinceSeq: number;

  @Column(integer('until_seq', { nullable: true }))
  untilSeq: number | null;

  @Column(micro('quantity'))
  quantityMicro: number;

  /** Span set of a numbered lot, `1-240,500-600`; null for a bulk one. */
  @Column(text('spans', { nullable: true }))
  spans: string | null;
}

/** The quality status of a part of a lot, from one entry until another. */
@Entity('lot_status')
export class LotStatusRow {
  @PrimaryColumn(integer('lot_id'))
  lotId: number;

  @PrimaryColumn({ name: 'status', type: 'varchar', length: 16 })
  status: LotStatus;

  @PrimaryColumn(integer('since_seq'))
  sinceSeq: number;

  @Column(integer('until_seq', { nullable: true }))
  untilSeq: number | null;

  @Column(text('spans', { nullable: true }))
  spans: string | null;
}

/** A piece with a serial of its own, unique within its item. */
@Entity('serial')
@Index('ix_serial_serial', ['serial'])
@Index('ix_serial_lot', ['lotId', 'piece'])
export class Serial {
  @PrimaryColumn(code('item'))
  item: string;

  @PrimaryColumn(code('serial'))
  serial: string;

  @Column(integer('lot_id'))
  lotId: number;

  @Column(integer('piece'))
  piece: number;
}

/** A genealogy edge. 0,0 stands for a bulk lot; a numbered lot always has its span. */
@Entity('link')
@Index('ix_link_from', ['fromLot', 'fromFirst'])
@Index('ix_link_to', ['toLot', 'toFirst'])
@Index('ix_link_run', ['run'])
@Index('ix_link_void', ['voidSeq'])
export class Link {
  @PrimaryColumn(integer('seq'))
  seq: number;

  @PrimaryColumn(integer('ord'))
  ord: number;

  @Column(integer('from_lot'))
  fromLot: number;

  @Column(integer('from_first'))
  fromFirst: number;

  @Column(integer('from_last'))
  fromLast: number;

  @Column(integer('to_lot'))
  toLot: number;

  @Column(integer('to_first'))
  toFirst: number;

  @Column(integer('to_last'))
  toLast: number;

  @Column(micro('quantity'))
  quantityMicro: number;

  @Column(micro('mass'))
  massMicro: number;

  /** True when the k-th piece went into the k-th; false when any piece may hold any. */
  @Column(flag('each'))
  each: boolean;

  @Column(code('run'))
  run: string;

  @Column({ name: 'kind', type: 'varchar', length: 16 })
  kind: string;

  @Column(instant('at'))
  at: string;

  @Column(integer('void_seq', { nullable: true }))
  voidSeq: number | null;
}
