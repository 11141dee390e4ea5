import { countPieces, parseSpans } from '../../../shared/spans.js';
import { type AddingUp, addingUp, type AddingUpDisposition } from '../pictures/adding-up.js';
import type { View } from '../wire/client.js';

export type Report = View<'ReportView'>;
export type Disposed = View<'DispositionsView'>;
export type Disposition = View<'DispositionView'>;
export type Learning = View<'LearningView'>;
export type Entry = View<'EntryView'>;

/** How much of a sorted part conforms, as an amount: the wire has pieces for a numbered lot. */
function conforming({ carriedOut, pieces }: Disposition): string | null {
  const sorted = carriedOut?.sorted ?? null;
  if (sorted === null) return null;
  if (sorted.conforming === null) return '0';
  return pieces === null ? sorted.conforming : `${countPieces(parseSpans(sorted.conforming))}`;
}

const asAdded = (one: Disposition): AddingUpDisposition => ({
  kind: one.kind,
  state: one.state,
  lot: one.lot,
  quantity: one.quantity,
  conforming: conforming(one),
});

/** The adding-up bar of one lot of a report. */
export const sumsOf = (account: View<'AccountView'>, dispositions: readonly Disposition[]): AddingUp =>
  addingUp(account, dispositions.map(asAdded));

/** The address of a trace forward from a part. */
export function traceAddress(part: { lot: string; pieces: string | null }): string {
  const asked = new URLSearchParams({ lot: part.lot, direction: 'forward' });
  if (part.pieces !== null) asked.set('pieces', part.pieces);
  return `/trace?${asked.toString()}`;
}

/** The address of a trace forward from several parts at once: the first by its pieces, every other lot as a whole. */
export function traceAll(parts: readonly { lot: string; pieces: string | null }[]): string {
  const [first, ...others] = parts;
  if (first === undefined) return '/trace';
  const more = [...new Set(others.map(({ lot }) => lot))].filter((lot) => lot !== first.lot);
  return [traceAddress(first), ...more.map((lot) => `lots=${encodeURIComponent(lot)}`)].join('&');
}
