import { Column, Entity, PrimaryColumn } from 'typeorm';
import { code, flag, integer, text } from '../../platform/database/columns.js';
import type { RecallType, ScopeName } from './recall.facts.js';

/** A recall, or a drill of one. Notices, answers and closing stand in tables of their own when they come. */
@Entity('recall')
export class Recall {
  @PrimaryColumn(code('code'))
  recall: string;

  @Column(text('title'))
  title: string;

  @Column({ name: 'type', type: 'varchar', length: 24 })
  type: RecallType;

  @Column(flag('drill'))
  drill: boolean;

  @Column(text('what'))
  what: string;

  @Column(text('reason'))
  reason: string;

  @Column(text('hazard', { nullable: true }))
  hazard: string | null;

  @Column(text('instruction', { nullable: true }))
  instruction: string | null;

  @Column(text('contact', { nullable: true }))
  contact: string | null;

  @Column(integer('opened_seq'))
  openedSeq: number;
}

/** One version of a recall's scope: a trace frozen at a ledger entry. */
@Entity('recall_scope')
export class RecallScopeRow {
  @PrimaryColumn(code('recall'))
  recall: string;

  @PrimaryColumn(integer('version'))
  version: number;

  /** Entry that froze it. */
  @Column(integer('seq'))
  seq: number;

  /** Entry as known at which it was traced, and the chain hash there. */
  @Column(integer('known_seq'))
  knownSeq: number;

  @Column({ name: 'known_hash', type: 'varchar', length: 64 })
  knownHash: string;

  @Column({ name: 'chosen', type: 'varchar', length: 16 })
  chosen: ScopeName;

  @Column(text('reason'))
  reason: string;

  /** Name of the plant and pattern of its lot codes at that time, as JSON. */
  @Column(text('printed'))
  printed: string;

  /** Parts it was traced from, as JSON. */
  @Column(text('origin'))
  origin: string;
}

/** A part of a lot in one scope of one version. */
@Entity('recall_part')
export class RecallPartRow {
  @PrimaryColumn(code('recall'))
  recall: string;

  @PrimaryColumn(integer('version'))
  version: number;

  @PrimaryColumn({ name: 'scope', type: 'varchar', length: 16 })
  scope: ScopeName;

  @PrimaryColumn(integer('lot_id'))
  lotId: number;

  /** Null for a bulk lot, which is affected as a whole. */
  @Column(text('spans', { nullable: true }))
  spans: string | null;
}
