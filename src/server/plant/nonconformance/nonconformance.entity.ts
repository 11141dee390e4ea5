import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, date, instant, integer, micro, text } from '../../platform/database/columns.js';
import type { SeverityClass } from '../catalogue/inspection-plan.facts.js';
import type { ConcessionTerms, DispositionKind } from './disposition.facts.js';
import type { Source } from './nonconformance.facts.js';
import type { ReportState } from './states.facts.js';

/** A nonconformance report, as lists and rules look it up; everything else about it is read from its entries. */
@Entity('report')
@Index('ix_report_state', ['state'])
export class NonconformanceReport {
  @PrimaryColumn(code('code'))
  report: string;

  @Column({ name: 'state', type: 'varchar', length: 16 })
  state: ReportState;

  @Column({ name: 'severity', type: 'varchar', length: 16 })
  severity: SeverityClass;

  @Column({ name: 'source', type: 'varchar', length: 16 })
  source: Source;

  @Column(code('source_code', { nullable: true }))
  sourceCode: string | null;

  @Column(text('requirement'))
  requirement: string;

  @Column(code('raised_by'))
  raisedBy: string;

  @Column(instant('raised_at'))
  raisedAt: string;

  @Column(integer('raised_seq'))
  raisedSeq: number;

  /** When it came to the state it is in. */
  @Column(instant('state_at'))
  stateAt: string;
}

/** A part judged affected by a report. */
@Entity('report_part')
@Index('ix_report_part_lot', ['lot'])
export class ReportPartRow {
  @PrimaryColumn(code('report'))
  report: string;

  /** Position among all that was judged affected, from 1. */
  @PrimaryColumn(integer('part'))
  part: number;

  @Column(code('lot'))
  lot: string;

  @Column(text('spans', { nullable: true }))
  spans: string | null;

  @Column(micro('quantity', { nullable: true }))
  quantityMicro: number | null;

  @Column(integer('since_seq'))
  sinceSeq: number;
}

/** A disposition, as rule 4 looks it up: what may be reworked although it is held, and what a concession covers. */
@Entity('disposition')
@Index('ix_disposition_lot', ['lot'])
export class DispositionRow {
  @PrimaryColumn(code('report'))
  report: string;

  @PrimaryColumn(integer('disposition'))
  disposition: number;

  @Column({ name: 'kind', type: 'varchar', length: 24 })
  kind: DispositionKind;

  @Column({ name: 'state', type: 'varchar', length: 16 })
  state: 'proposed' | 'signed' | 'carried-out' | 'verified' | 'withdrawn';

  @Column(code('lot'))
  lot: string;

  @Column(text('spans', { nullable: true }))
  spans: string | null;

  @Column(micro('quantity', { nullable: true }))
  quantityMicro: number | null;

  /** Concession: by whose authority, and the last day it covers anything. */
  @Column({ name: 'authority', type: 'varchar', length: 24, nullable: true })
  authority: ConcessionTerms['authority'] | null;

  @Column(date('until', { nullable: true }))
  until: string | null;

  @Column(integer('since_seq'))
  sinceSeq: number;

  /** Since when it lets its part be reworked, or go out under a concession; null while it does not. */
  @Column(integer('granted_seq', { nullable: true }))
  grantedSeq: number | null;

  /** When that was over: the rework carried out, or taken back. */
  @Column(integer('ended_seq', { nullable: true }))
  endedSeq: number | null;
}
