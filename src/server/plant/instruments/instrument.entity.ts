import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, date, instant, integer, text } from '../../platform/database/columns.js';
import type { AsFound, CalibrationResult, Conclusion } from './instrument.facts.js';

@Entity('calibration')
@Index('ix_calibration_instrument', ['instrument', 'calibratedAt'])
export class Calibration {
  @PrimaryColumn(code('code'))
  calibration: string;

  @Column(code('instrument'))
  instrument: string;

  @Column(instant('calibrated_at'))
  calibratedAt: string;

  @Column({ name: 'as_found', type: 'varchar', length: 24 })
  asFound: AsFound;

  @Column({ name: 'result', type: 'varchar', length: 24 })
  result: CalibrationResult;

  @Column(date('due_on', { nullable: true }))
  dueOn: string | null;

  @Column(text('calibrated_by'))
  calibratedBy: string;

  @Column(code('certificate_file', { nullable: true }))
  certificateFile: string | null;

  @Column(text('note', { nullable: true }))
  note: string | null;

  /** What was read against what, as JSON; null where none were given. */
  @Column(text('readings', { nullable: true }))
  readings: string | null;

  @Column(integer('recorded_seq'))
  recordedSeq: number;

  /** Entry that says it was recorded in error. */
  @Column(integer('voided_seq', { nullable: true }))
  voidedSeq: number | null;

  @Column(text('void_reason', { nullable: true }))
  voidReason: string | null;
}

/** What did it judge since it was last known good: open until quality answers, or until its calibration turns out an error. */
@Entity('instrument_question')
@Index('ix_instrument_question_instrument', ['instrument'])
export class InstrumentQuestion {
  @PrimaryColumn(code('calibration'))
  calibration: string;

  @Column(code('instrument'))
  instrument: string;

  @Column(integer('opened_seq'))
  openedSeq: number;

  @Column(integer('answered_seq', { nullable: true }))
  answeredSeq: number | null;

  @Column({ name: 'conclusion', type: 'varchar', length: 16, nullable: true })
  conclusion: Conclusion | null;

  /** What was in doubt when it was answered, as JSON: how many results and lots, and the time. */
  @Column(text('looked_at', { nullable: true }))
  lookedAt: string | null;

  @Column(text('reason', { nullable: true }))
  reason: string | null;

  /** Entry that says the calibration was recorded in error. */
  @Column(integer('dropped_seq', { nullable: true }))
  droppedSeq: number | null;
}
