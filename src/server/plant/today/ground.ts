import type { EntityManager } from 'typeorm';
import type { Known } from '../lots/lot-row.query.js';
import type { Actor } from '../people/access.js';

/** Who asks what waits, when, and what it is read from. */
export interface Ground {
  readonly from: EntityManager;
  readonly known: Known;
  readonly actor: Actor;
  /** An instant, and its day. */
  readonly now: string;
  readonly today: string;
  readonly nameOf: (item: string) => string;
}
