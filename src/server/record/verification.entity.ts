import { Column, Entity, PrimaryColumn } from 'typeorm';
import { code, instant, integer, text } from '../platform/database/columns.js';

/** A check of the record that somebody started: it goes on when they leave, and any server process can say how far it is. */
@Entity('verification')
export class Verification {
  @PrimaryColumn(code('code'))
  verification: string;

  @Column(code('started_by'))
  startedBy: string;

  @Column(instant('started_at'))
  startedAt: string;

  /** When the process that runs it last said so. */
  @Column(instant('alive_at'))
  aliveAt: string;

  /** `chain`, `replay`, `compare` or `files` while it runs. */
  @Column({ name: 'step', type: 'varchar', length: 16 })
  step: string;

  @Column(integer('done'))
  done: number;

  @Column(integer('of'))
  of: number;

  @Column(instant('ended_at', { nullable: true }))
  endedAt: string | null;

  /** The report as JSON; null while it runs, and when it ended without one. */
  @Column(text('report', { nullable: true }))
  report: string | null;
}
