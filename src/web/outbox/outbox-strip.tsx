import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { Link } from 'wouter';
import { localWritten } from '../app/clock.js';
import { useMe } from '../app/session.js';
import { ReasonLine } from '../design/refused.js';
import { giveUp, type Kept, keptCommands, onOutbox, sendKept } from './outbox.js';

const TRY_EVERY_MS = 3000;

/** Places that take a refused command back into their form, to be corrected there. */
const CORRECTED_AT: Readonly<Record<string, string>> = { '/api/deliveries': '/receiving' };

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
      {refused.map(({ id, path, title, person, at, problem }) => (
        <div className="strip refused" key={id}>
          <div>
            <strong>
              {title}, of {localWritten(at)} by {person}, was refused:
            </strong>{' '}
            {problem?.reasons.map((reason) => (
              <span key={reason.detail}>
                <ReasonLine reason={reason} />.{' '}
              </span>
            ))}
          </div>
          <div className="row">
            {path in CORRECTED_AT ? (
              <Link className="button" href={`${CORRECTED_AT[path]}?again=${id}`}>
                Correct it
              </Link>
            ) : null}
            <button type="button" onClick={() => void giveUp(id)}>
              Take off this list
            </button>
          </div>
        </div>
      ))}
    </div>
  );
}
