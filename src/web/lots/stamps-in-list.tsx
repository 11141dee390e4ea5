import { countPieces, subtractSpans, wholeLot } from '../../../shared/spans.js';
import { writtenCount } from '../../../shared/written.js';
import { Stamp } from '../design/stamp.js';
import type { View } from '../wire/client.js';
import { amountOf, spansIn } from './words.js';

type Stamped = View<'StampView'>;

/**
 * The stamps of a lot in a line of a list: a word that is on all of what is left of the lot is stamped, one on a part is written with how
 * much it is.
 */
export function StampsInList({ stamps, pieces, unit }: { stamps: readonly Stamped[]; pieces: number | null; unit: string }) {
  const scrapped = spansIn(stamps.find(({ stamp }) => stamp === 'SCRAPPED')?.pieces);
  const left = pieces === null ? [] : subtractSpans(wholeLot(pieces), scrapped);
  const isWhole = ({ stamp, pieces: on, quantity }: Stamped): boolean => {
    if (quantity !== null) return false;
    if (on === null || pieces === null) return true;
    return countPieces(subtractSpans(stamp === 'SCRAPPED' ? wholeLot(pieces) : left, spansIn(on))) === 0;
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
