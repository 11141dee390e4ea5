import { formatQuantity } from '../../../../shared/quantity.js';
import { formatSpans, intersectSpans, type SpanSet, subtractSpans, unionSpans, wholeLot } from '../../../../shared/spans.js';
import type { LotStatus } from '../stock/effects.facts.js';
import type { StampView } from './lots.dto.js';

/** What the stamp of a lot is made from, at one ledger position. */
export interface Stamped {
  readonly pieces: number | null;
  readonly expiresOn: string | null;
  readonly statuses: ReadonlyMap<LotStatus, SpanSet | null>;
  /** Own and inherited holds: null spans stop all of it, a quantity a part of a bulk lot. */
  readonly holds: readonly { readonly spans: SpanSet | null; readonly quantityMicro: number | null }[];
  readonly scrapped: SpanSet | null;
  readonly allScrapped: boolean;
}

const WORDS: Readonly<Record<LotStatus, string>> = { quarantine: 'QUARANTINE', released: 'RELEASED', 'not-accepted': 'NOT ACCEPTED' };

/**
 * The words a lot is stamped with, each with the part it is on (ST-1). A piece has one quality status, and beside it may be held, expired or
 * scrapped: those are said too, for a released lot on hold is both.
 * @param on the day against which expiry is judged
 * @param within only what is stamped on these pieces
 */
export function stampsOf(lot: Stamped, on: string, within: SpanSet | null = null): StampView[] {
  const stamps: StampView[] = [];
  const add = (stamp: string, of: SpanSet | null, quantityMicro: number | null = null): void => {
    const spans = of !== null && within !== null ? intersectSpans(of, within) : of;
    if (spans !== null && spans.length === 0) return;
    stamps.push({
      stamp,
      pieces: spans === null ? null : formatSpans(spans),
      quantity: quantityMicro === null ? null : formatQuantity(quantityMicro),
    });
  };
  const gone = lot.scrapped ?? [];
  if (lot.allScrapped) add('SCRAPPED', lot.pieces === null ? null : wholeLot(lot.pieces));
  else if (lot.pieces !== null) add('SCRAPPED', gone);
  for (const status of ['quarantine', 'released', 'not-accepted'] as const) {
    const spans = lot.statuses.get(status);
    if (spans !== undefined && !lot.allScrapped) add(WORDS[status], spans === null ? null : subtractSpans(spans, gone));
  }
  const whole = lot.pieces === null ? null : wholeLot(lot.pieces);
  const held = lot.holds.filter((hold) => hold.quantityMicro === null);
  if (held.length > 0) {
    const spans =
      whole === null ? null : held.reduce<SpanSet>((sum, hold) => unionSpans(sum, intersectSpans(hold.spans ?? whole, whole)), []);
    add('HELD', spans);
  }
  for (const hold of lot.holds) if (hold.quantityMicro !== null) add('HELD', null, hold.quantityMicro);
  if (lot.expiresOn !== null && lot.expiresOn < on) add('EXPIRED', whole);
  return stamps;
}
