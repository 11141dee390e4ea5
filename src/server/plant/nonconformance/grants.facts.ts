import type { SpanSet } from '../../../../shared/spans.js';

/**
 * What a signed disposition lets a lot do although it is held or not released: be charged to a rework run, or go out and be used under a
 * concession.
 */
export interface Grant {
  readonly report: string;
  readonly disposition: number;
  readonly kind: 'rework' | 'repair' | 'concession';
  /** Pieces it is for; null for a bulk lot. */
  readonly spans: SpanSet | null;
  /** Of a bulk lot, in millionths: how much went under it so far, and how much more it lets go. Null for pieces. */
  readonly usedMicro: number | null;
  readonly leftMicro: number | null;
  /** What of the bulk lot was on hand when that was counted. */
  readonly onHandMicro: number | null;
  /** Concession: the last day it covers anything. */
  readonly until: string | null;
  /** Holds of its report: the ones it sets aside. */
  readonly holds: readonly string[];
}
