import { writtenDate } from '../../../shared/written.js';
import { formatQuantity, MICRO } from '../../../shared/quantity.js';
import { server } from '../wire/client.js';
import { ReasonLine } from '../design/refused.js';
import { amount, amountOf } from './run.js';
import { leftMicro, type Want } from './wants.js';

/** Lots that the stock has of what is due, the oldest first, and what lies there and may not go in. */
export function Candidates({ want, onTake }: { want: Want | null; onTake: (lot: string) => void }) {
  if (want === null) return null;
  return <Offered want={want} onTake={onTake} />;
}

function Offered({ want, onTake }: { want: Want; onTake: (lot: string) => void }) {
  const quantity = formatQuantity(leftMicro(want) || MICRO);
  const { data } = server.useQuery('get', '/api/items/{item}/pick', { params: { path: { item: want.item }, query: { quantity } } });
  if (data === undefined) return null;
  return (
    <div className="candidates">
      <p className="quiet">{data.proposed.length === 0 ? `There is no ${want.name} that may be charged.` : 'In stock, oldest first:'}</p>
      <div className="row">
        {data.proposed.map(({ lot, at, quantity: of, unit, pieces, expiresOn }) => (
          <button type="button" className="candidate" key={`${lot} ${at} ${pieces}`} onClick={() => onTake(lot)}>
            <code>{lot}</code>
            <span>
              {amount(of, unit)} at {at}
            </span>
            {expiresOn === null ? null : <span className="quiet">expires {writtenDate(expiresOn)}</span>}
          </button>
        ))}
      </div>
      {data.short === '0' ? null : (
        <p className="urgent">
          {amountOf(leftMicro(want), want.unit)} are wanted; {amount(data.short, want.unit)} of it cannot be had.
        </p>
      )}
      {data.skipped.length === 0 ? null : (
        <details>
          <summary>Lies there and may not be charged: {data.skipped.length}</summary>
          <ul>
            {data.skipped.map((skipped) => (
              <li key={`${skipped.lot} ${skipped.code} ${skipped.detail}`}>
                <ReasonLine reason={{ ...skipped, detail: `${skipped.lot} ${skipped.detail}` }} />
              </li>
            ))}
          </ul>
        </details>
      )}
    </div>
  );
}
