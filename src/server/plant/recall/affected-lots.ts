import { MICRO, sumMicro } from '../../../../shared/quantity.js';
import { countPieces, intersectSpans, type SpanSet, subtractSpans, unionSpans } from '../../../../shared/spans.js';
import type { AffectedLot, LotStatus as WrittenStatus, ScopeTotals } from '../../documents/recall-report.types.js';
import type { LotShare } from '../../trace/shares.js';
import type { LotStatus } from '../stock/effects.facts.js';
import { meets } from '../stock/lot-state.facts.js';
import { type Affected, affectedMicro } from './affected.js';
import type { Figures } from './figures.query.js';
import type { KnownLot } from './known-at.query.js';

/** What stands against affected lots, besides their being affected. */
export interface Standing {
  readonly statuses: ReadonlyMap<number, ReadonlyMap<LotStatus, SpanSet | null>>;
  /** Held parts by lot id, holds on what the lot was made from included. */
  readonly held: ReadonlyMap<number, readonly (SpanSet | null)[]>;
  /** Calendar date against which expiry is judged. */
  readonly on: string;
}

/** The affected lots as the report lists them, by code. */
export function affectedLotList(
  { affected, lots, places }: Figures,
  standing: Standing,
  depths: ReadonlyMap<number, number>,
  shares: ReadonlyMap<number, LotShare>,
): AffectedLot[] {
  const scrapped = scrappedLots(affected, places);
  const here = onHandParts(affected, places);
  return [...affected]
    .map(([id, spans]): AffectedLot => {
      const lot = lots.get(id)!;
      return {
        lot: lot.lot,
        item: lot.item,
        itemName: lot.itemRecord?.name ?? lot.item,
        unit: lot.unit,
        status: scrapped.has(id) ? 'scrapped' : statusOf(lot, here.get(id) ?? spans, standing),
        run: lot.origin === 'made' ? lot.source : null,
        spans,
        piecesOfLot: lot.pieces ?? 0,
        affectedMicro: affectedMicro(lot, spans),
        quantityMicro: lot.quantityMicro,
        shares: sharesWithin(shares.get(id), spans),
        depth: depths.get(id) ?? 0,
      };
    })
    .toSorted((a, b) => (a.lot < b.lot ? -1 : 1));
}

/**
 * Whether any of the affected part may still leave: of what is on hand, or of all of it where nothing is. A single piece that is still
 * free makes the lot released, so that nobody takes it for stopped.
 */
function statusOf(lot: KnownLot, spans: SpanSet | null, { statuses, held, on }: Standing): WrittenStatus {
  const parts = statuses.get(lot.id) ?? new Map<LotStatus, SpanSet | null>();
  const holds = held.get(lot.id) ?? [];
  const is = (status: LotStatus): boolean => parts.has(status) && meets(parts.get(status)!, spans);
  const stops = [parts.get('quarantine'), parts.get('not-accepted'), ...holds].filter((part) => part !== undefined);
  const free =
    spans === null
      ? stops.length === 0
      : stops.reduce<SpanSet>((left, stop) => (stop === null ? [] : subtractSpans(left, stop)), spans).length > 0;
  if (free) return lot.expiresOn !== null && lot.expiresOn < on ? 'expired' : 'released';
  if (holds.some((part) => meets(part, spans))) return 'held';
  return is('quarantine') ? 'quarantine' : 'not accepted';
}

/** The affected pieces that are on hand, by lot id; lots with none, and bulk lots, are left out. */
function onHandParts(affected: Affected, places: Figures['places']): Map<number, SpanSet> {
  const here = new Map<number, SpanSet>();
  for (const { lotId, fate, spans } of places) {
    const wanted = affected.get(lotId) ?? null;
    if (fate !== 'on-hand' || wanted === null || spans === null) continue;
    const both = intersectSpans(wanted, spans);
    if (both.length > 0) here.set(lotId, unionSpans(here.get(lotId) ?? [], both));
  }
  return here;
}

/** Lots all of whose affected parts were scrapped. */
function scrappedLots(affected: Affected, places: Figures['places']): Set<number> {
  const scrapped = new Set<number>();
  const elsewhere = new Set<number>();
  for (const place of places) {
    if (!meets(affected.get(place.lotId)!, place.spans)) continue;
    (place.fate === 'scrapped' ? scrapped : elsewhere).add(place.lotId);
  }
  return new Set([...scrapped].filter((id) => !elsewhere.has(id)));
}

function sharesWithin(share: LotShare | undefined, spans: SpanSet | null): AffectedLot['shares'] {
  if (share === undefined || share.share === null) return [];
  if (spans === null || share.shares === null) return [{ spans: null, fraction: share.share }];
  return share.shares
    .map(([first, last, fraction]) => ({ spans: intersectSpans(spans, [[first, last]]), fraction }))
    .filter((part) => part.spans.length > 0);
}

/** How much a scope holds, and how many customers it reaches. */
export function scopeTotals(affected: Affected, lots: ReadonlyMap<number, KnownLot>, consignees: number): ScopeTotals {
  const bulk = new Map<string, number>();
  let pieces = 0;
  for (const [id, spans] of affected) {
    const lot = lots.get(id)!;
    if (spans === null) bulk.set(lot.unit, sumMicro([bulk.get(lot.unit) ?? 0, lot.quantityMicro]));
    else pieces += countPieces(spans);
  }
  return {
    lots: affected.size,
    pieces,
    bulk: [...bulk].map(([unit, quantityMicro]) => ({ unit, quantityMicro })).toSorted((a, b) => (a.unit < b.unit ? -1 : 1)),
    consignees,
  };
}

/** Lots whose whereabouts do not make up the affected part, with what is known about why. */
export function differencesOf({ affected, lots, places }: Figures): { lot: string; why: string }[] {
  const found: { lot: string; why: string }[] = [];
  const byLot = new Map<number, Figures['places'][number][]>([...affected.keys()].map((id) => [id, []]));
  for (const place of places) byLot.get(place.lotId)?.push(place);
  for (const [id, spans] of affected) {
    const lot = lots.get(id)!;
    const parts = byLot.get(id)!;
    const there =
      spans === null ? sumMicro(parts.map((part) => part.quantityMicro)) : sumMicro(parts.map((part) => piecesIn(spans, part.spans)));
    const wanted = affectedMicro(lot, spans);
    if (there === wanted) continue;
    found.push({ lot: lot.lot, why: 'The record itself does not add up here: check it with verify before relying on this list.' });
  }
  return found.toSorted((a, b) => (a.lot < b.lot ? -1 : 1));
}

const piecesIn = (spans: SpanSet, part: SpanSet | null): number => countPieces(intersectSpans(spans, part ?? [])) * MICRO;
