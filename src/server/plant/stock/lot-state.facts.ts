import { intersectSpans, type SpanSet, subtractSpans, unionSpans, wholeLot } from '../../../../shared/spans.js';
import type { OpenHold, OpenUrgentRelease } from '../holds/holds.facts.js';
import type { Grant } from '../nonconformance/grants.facts.js';
import type { Fate, LotStatus, Origin, Place, Unit } from './effects.facts.js';

/** A part of a lot at one place now. */
export interface PartAt {
  readonly place: Place;
  readonly quantityMicro: number;
  /** Null for a bulk lot. */
  readonly spans: SpanSet | null;
}

/** A lot as a decision sees it: what it is, where its parts are, its status, and what stands against using the wanted part. */
export interface LotState {
  readonly id: number;
  readonly lot: string;
  readonly item: string;
  readonly itemRevision: number;
  readonly unit: Unit;
  readonly pieces: number | null;
  readonly quantityMicro: number;
  readonly origin: Origin;
  readonly bornAt: string;
  readonly bornSeq: number;
  readonly madeOn: string | null;
  readonly expiresOn: string | null;
  readonly supplier: string | null;
  readonly supplierLot: string | null;
  readonly source: string;
  readonly places: readonly PartAt[];
  /** Span set per status; null for a bulk lot. */
  readonly statuses: ReadonlyMap<LotStatus, SpanSet | null>;
  /** Open holds on the lot itself. */
  readonly holds: readonly OpenHold[];
  /** Open reaching holds on anything the wanted part descends from. */
  readonly inherited: readonly OpenHold[];
  readonly urgentReleases: readonly OpenUrgentRelease[];
  /** What dispositions in force let it do. */
  readonly grants: readonly Grant[];
}

/** All pieces of a numbered lot, null for a bulk one. */
export const wholeOf = (lot: LotState): SpanSet | null => (lot.pieces === null ? null : wholeLot(lot.pieces));

/** What is at places of a fate, optionally only at one of them: quantity and, for a numbered lot, pieces. */
export function heldAt(lot: LotState, fate: Fate, at?: string): { quantityMicro: number; spans: SpanSet | null } {
  const parts = lot.places.filter((part) => part.place.fate === fate && (at === undefined || part.place.at === at));
  return {
    quantityMicro: parts.reduce((sum, part) => sum + part.quantityMicro, 0),
    spans: lot.pieces === null ? null : parts.reduce<SpanSet>((sum, part) => unionSpans(sum, part.spans ?? []), []),
  };
}

/** The wanted pieces that are not in `status`; for a bulk lot null when it is, else 'all'. */
export function notIn(lot: LotState, status: LotStatus, wanted: SpanSet | null): SpanSet | 'all' | null {
  if (lot.pieces === null || wanted === null) return lot.statuses.has(status) ? null : 'all';
  const rest = subtractSpans(wanted, lot.statuses.get(status) ?? []);
  return rest.length === 0 ? null : rest;
}

/** Whether two parts of one lot meet; null stands for all of it. */
export const meets = (a: SpanSet | null, b: SpanSet | null): boolean => a === null || b === null || intersectSpans(a, b).length > 0;
