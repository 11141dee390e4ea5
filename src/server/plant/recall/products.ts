import { countPieces, formatSpans, type SpanSet } from '../../../../shared/spans.js';
import type { ProductIdentity } from '../../documents/recall-report.types.js';
import type { Figures } from './figures.query.js';
import type { KnownLot } from './known-at.query.js';

/** Stretches of serials named one by one. */
const MOST_STRETCHES = 40;

/** What a reader finds printed on the packs: of everything filled or assembled, and of whatever else was sent out. */
export function productIdentities(
  { affected, lots, consignees }: Pick<Figures, 'affected' | 'lots' | 'consignees'>,
  serials: ReadonlyMap<number, readonly string[]>,
): ProductIdentity[] {
  const sent = new Set(consignees.flatMap((consignee) => consignee.lines.map((line) => line.lot)));
  return [...affected]
    .map(([id, spans]) => ({ lot: lots.get(id)!, spans }))
    .filter(({ lot }) => lot.itemRecord?.class === 'filled' || lot.itemRecord?.class === 'assembled' || sent.has(lot.lot))
    .map(({ lot, spans }) => ({
      item: lot.item,
      name: lot.itemRecord?.name ?? lot.item,
      gtin: lot.itemRecord?.gtin ?? null,
      lot: lot.lot,
      madeOn: madeOn(lot),
      expiresOn: lot.expiresOn,
      marks: marks(lot, spans, serials.get(lot.id)),
    }))
    .toSorted((a, b) => (a.item === b.item ? (a.lot < b.lot ? -1 : 1) : a.item < b.item ? -1 : 1));
}

export const madeOn = (lot: KnownLot): string | null => lot.madeOn ?? (lot.origin === 'made' ? lot.bornAt.slice(0, 10) : null);

/** Serials where pieces carry their own, piece numbers where not all of the lot is affected. */
function marks(lot: KnownLot, spans: SpanSet | null, serials: readonly string[] | undefined): string | null {
  if (spans === null) return null;
  if (serials) {
    const stretches = spans.map(([first, last]) => {
      const from = serials[first - 1] ?? `piece ${first}`;
      return first === last ? from : `${from} to ${serials[last - 1] ?? `piece ${last}`} (${last - first + 1})`;
    });
    const more = stretches.length > MOST_STRETCHES ? `, and ${stretches.length - MOST_STRETCHES} more stretches` : '';
    return `serials ${stretches.slice(0, MOST_STRETCHES).join(', ')}${more}`;
  }
  return countPieces(spans) === lot.pieces ? `all, numbers 1-${lot.pieces}` : `numbers ${formatSpans(spans)} of 1-${lot.pieces}`;
}
