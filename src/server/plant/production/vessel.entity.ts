import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, instant, integer, text } from '../../platform/database/columns.js';

/** An earlier batch that clung to a vessel this run was made in. */
@Entity('run_residue')
export class RunResidue {
  @PrimaryColumn(code('run'))
  run: string;

  @PrimaryColumn(code('vessel'))
  vessel: string;

  @PrimaryColumn(code('lot'))
  lot: string;

  @Column(integer('seq'))
  seq: number;
}

/** A stay of a running batch in a vessel. */
@Entity('run_vessel')
@Index('ix_run_vessel_vessel', ['vessel'])
export class RunVessel {
  @PrimaryColumn(code('run'))
  run: string;

  @PrimaryColumn(integer('since_seq'))
  sinceSeq: number;

  @Column(code('vessel'))
  vessel: string;

  @Column(integer('left_seq', { nullable: true }))
  leftSeq: number | null;

  @Column(instant('left_at', { nullable: true }))
  leftAt: string | null;
}

/** A batch was in a vessel: at this entry it was yielded there, had left it, or was pumped into it. */
@Entity('vessel_batch')
@Index('ix_vessel_batch_vessel', ['vessel'])
export class VesselBatch {
  @PrimaryColumn(integer('seq'))
  seq: number;

  @PrimaryColumn(code('vessel'))
  vessel: string;

  @PrimaryColumn(code('lot'))
  lot: string;

  @Column(code('run', { nullable: true }))
  run: string | null;

  @Column(instant('at'))
  at: string;
}

/** A vessel was cleaned. */
@Entity('vessel_cleaning')
@Index('ix_vessel_cleaning_vessel', ['vessel'])
export class VesselCleaning {
  @PrimaryColumn(integer('seq'))
  seq: number;

  @Column(code('vessel'))
  vessel: string;

  @Column(instant('cleaned_at'))
  cleanedAt: string;

  @Column(code('by'))
  by: string;

  @Column(text('method'))
  method: string;
}

/** What was left in a vessel was taken out of it. */
@Entity('vessel_emptying')
@Index('ix_vessel_emptying_vessel', ['vessel'])
export class VesselEmptying {
  @PrimaryColumn(integer('seq'))
  seq: number;

  @Column(code('vessel'))
  vessel: string;

  @Column(instant('emptied_at'))
  emptiedAt: string;

  @Column(code('by'))
  by: string;

  @Column(code('location', { nullable: true }))
  location: string | null;

  @Column(text('reason'))
  reason: string;
}
