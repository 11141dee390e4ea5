import { useEffect, useState } from 'react';
import { keptCommands, onOutbox } from '../outbox/outbox.js';
import type { BodyOf } from '../wire/use-command.js';
import { type Counts, countsOfSent } from './tally-state.js';

type Body = BodyOf<'/api/inspections/{inspection}/tallies'>;

/** What this device has counted for an inspection and could not send yet: it counts on the page, so that nobody counts it twice. */
export function useKeptTallies(inspection: string, basis: 'items' | 'nonconformities'): Counts {
  const [bodies, setBodies] = useState<readonly Body[]>([]);
  useEffect(() => {
    let here = true;
    const read = async (): Promise<void> => {
      const kept = await keptCommands().catch(() => []);
      const ours = kept.filter(
        ({ path, address, problem }) =>
          path === '/api/inspections/{inspection}/tallies' && address['inspection'] === inspection && problem === null,
      );
      if (here) setBodies(ours.map(({ body }) => body as Body));
    };
    void read();
    const stop = onOutbox(() => void read());
    return () => {
      here = false;
      stop();
    };
  }, [inspection]);
  return countsOfSent(bodies, basis);
}
