import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, flag, instant, integer, micro, text } from '../../platform/database/columns.js';
import type { Occasion, Verdict } from './inspection.facts.js';

/** An inspection of a lot or of pieces of it, from waiting to decided. */
@Entity('inspection')
@Index('ix_inspection_lot', ['lot'])
@Index('ix_inspection_state', ['state'])
@Index('ix_inspection_item', ['item', 'supplier'])
export class Inspection {
  @PrimaryColumn(code('code'))
  inspection: string;

  @Column(code('lot'))
  lot: string;

  @Column(code('item'))
  item: string;

  /** Span set inspected, null for a bulk lot. */
  @Column(text('spans', { nullable: true }))
  spans: string | null;

  @Column(micro('lot_size', { nullable: true }))
  lotSize: number | null;

  @Column({ name: 'occasion', type: 'varchar', length: 16 })
  occasion: Occasion;

  @Column(code('source', { nullable: true }))
  source: string | null;

  /** Null: made here. */
  @Column(code('supplier', { nullable: true }))
  supplier: string | null;

  @Column(integer('plan_revision'))
  planRevision: number;

  @Column(code('resubmits', { nullable: true }))
  resubmits: string | null;

  @Column({ name: 'state', type: 'varchar', length: 16 })
  state: 'waiting' | 'begun' | 'decided' | 'skipped' | 'called-off';

  @Column(instant('opened_at'))
  openedAt: string;

  @Column(integer('opened_seq'))
  openedSeq: number;

  @Column(text('urgent_reason', { nullable: true }))
  urgentReason: string | null;

  /** The sample plan as JSON, null until begun or where there is none. */
  @Column(text('sample', { nullable: true }))
  sample: string | null;

  @Column(integer('begun_seq', { nullable: true }))
  begunSeq: number | null;

  @Column({ name: 'verdict', type: 'varchar', length: 16, nullable: true })
  verdict: Verdict | null;

  /** Items looked at, and those of them nonconforming, once decided. */
  @Column(micro('inspected', { nullable: true }))
  inspected: number | null;

  @Column(micro('nonconforming', { nullable: true }))
  nonconforming: number | null;

  @Column(flag('curtailed'))
  curtailed: boolean;

  /** Entry that decided it, skipped it or called it off. */
  @Column(integer('ended_seq', { nullable: true }))
  endedSeq: number | null;

  @Column(instant('ended_at', { nullable: true }))
  endedAt: string | null;
}

/** Items of a sample that one inspector looked at. */
@Entity('inspection_tally')
export class InspectionTally {
  @PrimaryColumn(code('inspection'))
  inspection: string;

  @PrimaryColumn(integer('tally'))
  tally: number;

  @Column(integer('sample'))
  sample: number;

  @Column(integer('conforming'))
  conforming: number;

  /** Items written down one by one, as JSON. */
  @Column(text('items'))
  items: string;

  @Column(integer('since_seq'))
  sinceSeq: number;

  /** Entry that took it back. */
  @Column(integer('until_seq', { nullable: true }))
  untilSeq: number | null;

  @Column(text('taken_back_reason', { nullable: true }))
  takenBackReason: string | null;
}

/**
 * One measured characteristic of a lot (item 0) or of the item of a tally: what an instrument judged can be asked of it. Results of a
 * tally that is taken back keep the entry that did so in `untilSeq`.
 */
@Entity('test_result')
@Index('ix_test_result_instrument', ['instrument', 'at'])
@Index('ix_test_result_lot', ['lot'])
export class TestResult {
  @PrimaryColumn(code('inspection'))
  inspection: string;

  /** 0 for a result of the lot, else the tally it is part of. */
  @PrimaryColumn(integer('tally'))
  tally: number;

  /** Number of the result within the inspection, or of the item within the tally. */
  @PrimaryColumn(integer('number'))
  number: number;

  @PrimaryColumn(code('characteristic'))
  characteristic: string;

  @Column(code('lot'))
  lot: string;

  @Column(code('item'))
  item: string;

  @Column(integer('piece', { nullable: true }))
  piece: number | null;

  @Column(code('instrument', { nullable: true }))
  instrument: string | null;

  /** When it was measured. */
  @Column(instant('at'))
  at: string;

  /** Who measured. */
  @Column(code('person'))
  person: string;

  /** Millionths of the characteristic's unit. */
  @Column(micro('value'))
  valueMicro: number;

  @Column(flag('within'))
  within: boolean;

  /** Readings, figures, fault and method, as JSON. */
  @Column(text('measured'))
  measured: string;

  @Column(integer('retest_of', { nullable: true }))
  retestOf: number | null;

  @Column(text('reason', { nullable: true }))
  reason: string | null;

  @Column(integer('since_seq'))
  sinceSeq: number;

  @Column(integer('until_seq', { nullable: true }))
  untilSeq: number | null;
}

/** How severe the inspection of one class of an item and supplier is under one plan, with every earlier state. */
@Entity('switching')
@Index('ix_switching_item', ['item', 'supplier'])
export class Switching {
  @PrimaryColumn(code('item'))
  item: string;

  /** Empty: made here. */
  @PrimaryColumn({ name: 'supplier', type: 'varchar', length: 64 })
  supplier: string;

  @PrimaryColumn({ name: 'class', type: 'varchar', length: 16 })
  class: 'major' | 'minor';

  /** `single II 1.0 items`. */
  @PrimaryColumn({ name: 'plan', type: 'varchar', length: 64 })
  plan: string;

  @PrimaryColumn(integer('since_seq'))
  sinceSeq: number;

  @Column(integer('until_seq', { nullable: true }))
  untilSeq: number | null;

  @Column({ name: 'severity', type: 'varchar', length: 16 })
  severity: 'normal' | 'tightened' | 'reduced' | 'discontinued';

  /** The whole state, as JSON. */
  @Column(text('state'))
  state: string;

  /** Why it is so, as JSON: sentences. */
  @Column(text('because'))
  because: string;

  /** The inspection that brought it about; null: a decision. */
  @Column(code('inspection', { nullable: true }))
  inspection: string | null;
}
