import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { Link } from 'wouter';
import { localWritten } from '../app/clock.js';
import { useMe } from '../app/session.js';
import { type Kind, PLACE_OF } from '../design/refer.js';
import { ReasonLine } from '../design/refused.js';
import { giveUp, type Kept, keptCommands, onOutbox, sendKept } from './outbox.js';

const TRY_EVERY_MS = 3000;

/** Where a refused command is taken back into its form, or else the record that it was about. */
function wayOn({ id, path, address }: Kept): { readonly to: string; readonly says: string } | null {
  if (path === '/api/deliveries') return { to: `/receiving?again=${id}`, says: 'Correct it' };
  const [named] = Object.entries(address).filter(([kind]) => kind in PLACE_OF);
  if (named === undefined) return null;
  const to = `${PLACE_OF[named[0] as Kind]}/${encodeURIComponent(named[1])}`;
  return path === '/api/runs/{run}/charges' ? { to: `${to}?again=${id}`, says: 'Correct it' } : { to, says: `Open ${named[1]}` };
}

function WayOn({ kept }: { kept: Kept }) {
  const way = wayOn(kept);
  if (way === null) return null;
  return (
    <Link className="button" href={way.to}>
      {way.says}
    </Link>
  );
}

/** What is kept on this device, kept up to date; sent as soon as the server answers again. */
function useKept(): readonly Kept[] {
  const queries = useQueryClient();
  const { person } = useMe();
  const [kept, setKept] = useState<readonly Kept[]>([]);
  useEffect(() => {
    const read = (): void => void keptCommands().then(setKept, () => setKept([]));
    read();
    return onOutbox(read);
  }, []);
  const waiting = kept.filter((one) => one.problem === null && one.person === person).length;
  useEffect(() => {
    if (waiting === 0) return;
    const send = (): void => void sendKept(person).then((answered) => (answered ? queries.invalidateQueries() : undefined));
    send();
    const timer = setInterval(send, TRY_EVERY_MS);
    window.addEventListener('online', send);
    return () => {
      clearInterval(timer);
      window.removeEventListener('online', send);
    };
  }, [waiting, person, queries]);
  return kept;
}

/** Says what waits to be sent and what was refused when it was sent; nothing typed without a connection is lost. */
export function OutboxStrip() {
  const kept = useKept();
  const me = useMe();
  const waiting = kept.filter(({ problem, person }) => problem === null && person === me.person);
  const ofOthers = kept.filter(({ problem, person }) => problem === null && person !== me.person);
  const refused = kept.filter(({ problem }) => problem !== null);
  return (
    <div role="status">
      {waiting.length === 0 ? null : (
        <div className="strip waiting">
          <strong>No connection.</strong> Kept on this device and sent once when the server is back:{' '}
          {waiting.map(({ title, person }) => `${title} (${person})`).join(', ')}.
        </div>
      )}
      {ofOthers.length === 0 ? null : (
        <div className="strip waiting">
          <strong>Kept on this device for others.</strong> It is sent in no other name, so whoever did it has to sign in here:{' '}
          {ofOthers.map(({ title, person }) => `${title} (${person})`).join(', ')}.
        </div>
      )}
      {refused.map((one) => (
        <div className="strip refused" key={one.id}>
          <div>
            <strong>
              {one.title}, of {localWritten(one.at)} by {one.person}, was refused:
            </strong>{' '}
            {one.problem?.reasons.map((reason) => (
              <span key={reason.detail}>
                <ReasonLine reason={reason} />.{' '}
              </span>
            ))}
          </div>
          <div className="row">
            <WayOn kept={one} />
            <button type="button" onClick={() => void giveUp(one.id)}>
              Take off this list
            </button>
          </div>
        </div>
      ))}
    </div>
  );
}
