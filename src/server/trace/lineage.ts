import type { EntityManager } from 'typeorm';
import type { SpanSet } from '../../../shared/spans.js';

/** A part of a lot by its database id: spans of a numbered lot, or null for a bulk one. */
export interface LotPart {
  readonly lotId: number;
  readonly spans: SpanSet | null;
}

/**
 * What commands ask of the genealogy: answered from the links as they stand in the command's own transaction,
 * those of its forerunners in the same commit included.
 */
export abstract class Lineage {
  /** Every part that went into `part`, itself left out; spans null for a bulk lot. Microseconds to milliseconds. */
  abstract ancestors(tx: EntityManager, part: LotPart): Promise<readonly LotPart[]>;

  /** Every part that holds or may hold some of `part`, itself left out unless it is reached again. */
  abstract descendants(tx: EntityManager, part: LotPart): Promise<readonly LotPart[]>;
}
