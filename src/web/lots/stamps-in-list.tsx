import { countPieces, type SpanSet, subtractSpans } from '../../../shared/spans.js';
import { writtenCount } from '../../../shared/written.js';
import { Stamp } from '../design/stamp.js';
import type { View } from '../wire/client.js';
import { amountOf, spansIn } from './words.js';

type Stamped = View<'StampView'>;

/**
 * The stamps of a lot in a line of a list: a word that is on all of what is left is stamped, one on a part is written with how much it is.
 * @param of the pieces that the line is about, null for a bulk lot
 */
export function StampsInList({ stamps, of, unit }: { stamps: readonly Stamped[]; of: SpanSet | null; unit: string }) {
  const scrapped = spansIn(stamps.find(({ stamp }) => stamp === 'SCRAPPED')?.pieces);
  const isWhole = ({ stamp, pieces: on, quantity }: Stamped): boolean => {
    if (quantity !== null) return false;
    if (on === null || of === null) return true;
    return subtractSpans(stamp === 'SCRAPPED' ? of : subtractSpans(of, scrapped), spansIn(on)).length === 0;
  };
  return (
    <span className="list-stamps">
      {stamps.map((one) =>
        isWhole(one) ? (
          <Stamp key={one.stamp} word={one.stamp} small />
        ) : (
          <span
            key={`${one.stamp} ${one.pieces} ${one.quantity}`}
            className={one.stamp === 'SCRAPPED' || one.stamp === 'RELEASED' ? 'quiet' : 'urgent'}
          >
            {one.quantity === null ? writtenCount(countPieces(spansIn(one.pieces))) : amountOf(one.quantity, unit)}{' '}
            {one.stamp.toLowerCase()}
          </span>
        ),
      )}
    </span>
  );
}
