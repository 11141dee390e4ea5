import { type SpanSet, subtractSpans, unionSpans } from '../shared/spans.js';
import type { OwnHold } from '../src/server/plant/nonconformance/outcome-holds.decide.js';
import type { Change } from '../src/server/plant/nonconformance/grants.decide.js';
import type { Fate, LotStatus, Movement } from '../src/server/plant/stock/effects.facts.js';
import type { PartAt } from '../src/server/plant/stock/lot-state.facts.js';

/** A lot in memory, as plainly as it can be kept. */
export interface PlainLot {
  places: PartAt[];
  statuses: Map<LotStatus, SpanSet | null>;
  readonly pieces: number | null;
  /** The run it came from. */
  readonly source: string;
}

/** What is at places of a fate. */
export function heldOf(
  lot: { readonly places: readonly PartAt[]; readonly pieces: number | null },
  fate: Fate,
): { quantityMicro: number; spans: SpanSet | null } {
  const parts = lot.places.filter((part) => part.place.fate === fate);
  return {
    quantityMicro: parts.reduce((sum, part) => sum + part.quantityMicro, 0),
    spans: lot.pieces === null ? null : parts.reduce<SpanSet>((sum, part) => unionSpans(sum, part.spans ?? []), []),
  };
}

/** Lots and holds in memory, with the history of each bulk lot. */
export class PlainStock {
  readonly lots = new Map<string, PlainLot>();
  held: OwnHold[] = [];
  /** Every hold there ever was. */
  readonly holds: string[] = [];
  readonly changes: (Change & { readonly lot: string })[] = [];

  bear(code: string, pieces: number | null, quantityMicro: number, source: string, status: LotStatus, seq = 0): void {
    const spans: SpanSet | null = pieces === null ? null : [[1, pieces]];
    const places: PartAt[] = [{ place: { fate: 'on-hand', at: 'A' }, quantityMicro, spans }];
    this.lots.set(code, { places, statuses: new Map([[status, spans]]), pieces, source });
    this.changes.push({ lot: code, seq, what: 'onHand', by: quantityMicro });
    if (status === 'released') this.changes.push({ lot: code, seq, what: 'released', by: 1 });
  }

  hold(row: OwnHold, seq: number): void {
    this.holds.push(row.hold);
    this.held.push(row);
    this.#count(row, 1, seq);
  }

  lift(hold: string, seq: number): void {
    for (const row of this.held.filter((one) => one.hold === hold)) this.#count(row, -1, seq);
    this.held = this.held.filter((row) => row.hold !== hold);
  }

  /** @param gone what it counts as when it was used; null for what was not */
  move(moved: readonly Movement[], gone: 'rework' | 'other' | null, seq: number): void {
    for (const one of moved) {
      const lot = this.lots.get(one.lot)!;
      lot.places = shifted(lot.places, one);
      if (one.from.fate === 'on-hand') this.changes.push({ lot: one.lot, seq, what: 'onHand', by: -one.quantityMicro });
      if (gone !== null) this.changes.push({ lot: one.lot, seq, what: gone, by: one.quantityMicro });
    }
  }

  restatus(code: string, spans: SpanSet | null, status: LotStatus, seq: number): void {
    const lot = this.lots.get(code)!;
    if (lot.pieces === null) {
      const by = Number(status === 'released') - Number(lot.statuses.has('released'));
      if (by !== 0) this.changes.push({ lot: code, seq, what: 'released', by });
      lot.statuses = new Map([[status, null]]);
      return;
    }
    const left = [...lot.statuses].map(([of, part]) => [of, subtractSpans(part ?? [], spans ?? [])] as const);
    lot.statuses = new Map(left.filter(([, part]) => part.length > 0));
    lot.statuses.set(status, unionSpans(lot.statuses.get(status) ?? [], spans ?? []));
  }

  #count({ lot, spans, quantityMicro }: OwnHold, sign: 1 | -1, seq: number): void {
    if (spans !== null) return;
    this.changes.push(
      quantityMicro === null ? { lot, seq, what: 'whole', by: sign } : { lot, seq, what: 'held', by: sign * quantityMicro },
    );
  }
}

function shifted(places: readonly PartAt[], { spans, quantityMicro, from, to }: Movement): PartAt[] {
  const left = places.map((part) =>
    part.place.fate === from.fate && part.place.at === from.at
      ? {
          ...part,
          quantityMicro: part.quantityMicro - quantityMicro,
          spans: part.spans === null ? null : subtractSpans(part.spans, spans ?? []),
        }
      : part,
  );
  if (left.some((part) => part.quantityMicro < 0 || part.quantityMicro % 1 !== 0)) throw new Error('more was taken than was there');
  return [...left, { place: to, quantityMicro, spans }].filter((part) => part.quantityMicro > 0);
}

export const pieceList = (spans: SpanSet): number[] =>
  spans.flatMap(([first, last]) => Array.from({ length: last - first + 1 }, (_, i) => first + i));
