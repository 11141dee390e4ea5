import { writtenDecimal } from '../../../shared/written.js';
import { Refer } from '../design/refer.js';
import { Stamps } from '../design/stamp.js';
import { server } from '../wire/client.js';

/** What a lot is and what of it lies where the goods are taken from, beside the line that names it. */
export function LotHint({ lot, location, onPieces }: { lot: string; location: string | null; onPieces: (pieces: string) => void }) {
  const { data } = server.useQuery('get', '/api/lots/{lot}', { params: { path: { lot } } }, { enabled: lot.length > 3 });
  if (data === undefined) return null;
  const here = data.places.filter(({ fate, at }) => fate === 'on-hand' && (location === null || location === '' || at === location));
  const pieces = here.flatMap((place) => place.pieces ?? []).join(',');
  return (
    <div className="row lot-hint">
      <Refer kind="lot" code={data.lot} /> <span>{data.itemName}</span> <Stamps stamps={data.stamps} unit={data.unit} small />
      <span className="quiet">
        {here.length === 0
          ? `nothing of it on hand${location ? ` at ${location}` : ''}`
          : here.map((place) => `${place.pieces ?? writtenDecimal(place.quantity, data.unit)} at ${place.at}`).join('; ')}
      </span>
      {location !== null && pieces !== '' ? (
        <button type="button" onClick={() => onPieces(pieces)}>
          All that lies there
        </button>
      ) : null}
    </div>
  );
}
