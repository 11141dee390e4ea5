import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, flag, instant, integer, micro, text } from '../../platform/database/columns.js';

/** One making step. What came out of it stands in the last columns, once it is closed. */
@Entity('run')
@Index('ix_run_vessel', ['vessel'])
@Index('ix_run_line', ['line'])
@Index('ix_run_closed', ['closedSeq'])
export class Run {
  @PrimaryColumn(code('code'))
  run: string;

  @Column({ name: 'kind', type: 'varchar', length: 16 })
  kind: string;

  @Column(code('item'))
  item: string;

  @Column(integer('item_revision'))
  itemRevision: number;

  @Column(code('recipe', { nullable: true }))
  recipe: string | null;

  @Column(integer('recipe_revision', { nullable: true }))
  recipeRevision: number | null;

  @Column(code('bom', { nullable: true }))
  bom: string | null;

  @Column(integer('bom_revision', { nullable: true }))
  bomRevision: number | null;

  /** The vessel it is in now, or was in last. */
  @Column(code('vessel', { nullable: true }))
  vessel: string | null;

  @Column(code('line', { nullable: true }))
  line: string | null;

  /** Codes of persons, as JSON. */
  @Column(text('people'))
  people: string;

  @Column(instant('started_at'))
  startedAt: string;

  @Column(integer('started_seq'))
  startedSeq: number;

  @Column(micro('planned', { nullable: true }))
  plannedMicro: number | null;

  /** Who checked the line clear, as JSON. */
  @Column(text('clearance', { nullable: true }))
  clearance: string | null;

  /** Text and code of the label, as JSON. */
  @Column(text('label', { nullable: true }))
  label: string | null;

  @Column(text('note', { nullable: true }))
  note: string | null;

  @Column(instant('finished_at', { nullable: true }))
  finishedAt: string | null;

  @Column(integer('closed_seq', { nullable: true }))
  closedSeq: number | null;

  /** The lot it yielded. */
  @Column(code('lot', { nullable: true }))
  lot: string | null;

  /** Rejected pieces, weights, figures and deviations of the closing, as JSON. */
  @Column(text('result', { nullable: true }))
  result: string | null;
}

/** A part of a lot charged to a run, and how much of it came back. */
@Entity('run_charge')
@Index('ix_run_charge_lot', ['lot'])
export class RunCharge {
  @PrimaryColumn(code('run'))
  run: string;

  @PrimaryColumn(integer('charge'))
  charge: number;

  @Column(integer('step', { nullable: true }))
  step: number | null;

  @Column(code('lot'))
  lot: string;

  @Column(code('item'))
  item: string;

  @Column(text('spans', { nullable: true }))
  spans: string | null;

  @Column(micro('quantity'))
  quantityMicro: number;

  @Column(micro('mass'))
  massMicro: number;

  @Column(instant('charged_at'))
  chargedAt: string;

  @Column(code('by'))
  by: string;

  @Column(flag('heel'))
  heel: boolean;

  /** Which pieces of the lot made it went into, as JSON. */
  @Column(text('into'))
  into: string;

  /** What was otherwise than the recipe says, as JSON. */
  @Column(text('deviations'))
  deviations: string;

  @Column(text('deviation_reason', { nullable: true }))
  deviationReason: string | null;

  /** Urgent releases it leant on, as JSON. */
  @Column(text('urgent_releases'))
  urgentReleases: string;

  /** The quantity as given and the factor used, as JSON. */
  @Column(text('conversion', { nullable: true }))
  conversion: string | null;

  @Column(code('taken_from'))
  takenFrom: string;

  @Column(text('returned_spans', { nullable: true }))
  returnedSpans: string | null;

  @Column(micro('returned'))
  returnedMicro: number;

  @Column(micro('returned_mass'))
  returnedMassMicro: number;

  @Column(integer('seq'))
  seq: number;
}

/** From this piece on the component came from this lot. One that was put right ends at the correcting entry. */
@Entity('run_changeover')
@Index('ix_run_changeover_run', ['run'])
export class RunChangeover {
  @PrimaryColumn(integer('seq'))
  seq: number;

  @PrimaryColumn(integer('n'))
  n: number;

  @Column(code('run'))
  run: string;

  @Column(code('item'))
  item: string;

  @Column(code('lot'))
  lot: string;

  @Column(integer('from_piece'))
  fromPiece: number;

  @Column(instant('changed_at'))
  changedAt: string;

  @Column(integer('until_seq', { nullable: true }))
  untilSeq: number | null;
}

/** A figure of a closing that has to be explained, and the explanation once it is given. */
@Entity('run_investigation')
@Index('ix_run_investigation_open', ['explainedSeq'])
export class RunInvestigation {
  @PrimaryColumn(code('run'))
  run: string;

  @PrimaryColumn({ name: 'what', type: 'varchar', length: 16 })
  what: string;

  @Column(text('detail'))
  detail: string;

  @Column(integer('opened_seq'))
  openedSeq: number;

  @Column(text('explanation', { nullable: true }))
  explanation: string | null;

  @Column(code('explained_by', { nullable: true }))
  explainedBy: string | null;

  @Column(integer('explained_seq', { nullable: true }))
  explainedSeq: number | null;
}

/** An entry that put the record of a run right. */
@Entity('run_correction')
@Index('ix_run_correction_run', ['run'])
export class RunCorrection {
  @PrimaryColumn(integer('seq'))
  seq: number;

  @Column(code('run'))
  run: string;

  @Column(integer('corrects', { nullable: true }))
  corrects: number | null;

  @Column(text('reason'))
  reason: string;

  @Column(instant('at'))
  at: string;

  @Column(code('by'))
  by: string;

  /** Links voided, as JSON. */
  @Column(text('voided'))
  voided: string;

  /** How many links were recorded. */
  @Column(integer('linked'))
  linked: number;
}
