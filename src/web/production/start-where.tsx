import { TickField } from '../design/fields.js';
import { Caution, Notice } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server } from '../wire/client.js';
import { amount } from './run.js';

const KEEP = { staleTime: 60_000 };

/** Vessels and lines, to choose from. */
export function useWhere(): { vessels: { value: string; says: string }[]; lines: { value: string; says: string }[] } {
  const vessels = server.useQuery('get', '/api/vessels', {}, KEEP).data ?? [];
  const lines = server.useQuery('get', '/api/lines', {}, KEEP).data ?? [];
  const choice = ({ code, name }: { code: string; name: string }) => ({ value: code, says: `${code} ${name}` });
  return { vessels: vessels.map(choice), lines: lines.map(choice) };
}

/** What the chosen vessel holds: it is the heel of the batch that begins in it. */
export function VesselHolds({ vessel }: { vessel: string }) {
  const { data } = server.useQuery('get', '/api/vessels/{vessel}/content', { params: { path: { vessel } } });
  if (data === undefined) return null;
  if (data.openRun !== null) {
    return (
      <Caution>
        <p>
          <Refer kind="run" code={data.openRun} /> is still running in {vessel}: close it first.
        </p>
      </Caution>
    );
  }
  if (data.content.length > 0) {
    const held = data.content.map(({ quantity, unit, lot }) => `${amount(quantity, unit)} of ${lot}`).join(' and ');
    return (
      <Caution>
        <p>
          {vessel} still holds {held}. It goes into this batch: charge it as heel, or{' '}
          <Refer kind="vessel" code={vessel}>
            take it out first
          </Refer>
          .
        </p>
        <TickField name="/takeHeel" label={`Charge ${held} at once, as heel`} />
      </Caution>
    );
  }
  if (data.lastBatch === null) return null;
  return (
    <Notice>
      <p>
        {vessel} was not cleaned since <Refer kind="lot" code={data.lastBatch} />: what clings to it goes into this batch, and the record
        will say so.
      </p>
    </Notice>
  );
}
