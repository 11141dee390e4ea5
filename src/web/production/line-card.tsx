import { Link } from 'wouter';
import { msOf } from '../app/clock.js';
import type { View } from '../wire/client.js';
import { amount } from './run.js';
import { elapsedWords } from './time-words.js';
import { usePlantClock } from './use-plant-clock.js';

const MINUTE = 60_000;

/** A line and what runs on it. */
export function LineCard({ code, name, runs }: { code: string; name: string; runs: readonly View<'RunHeadView'>[] }) {
  const now = usePlantClock(MINUTE);
  return (
    <article className={`sheet place-card${runs.length > 0 ? ' busy' : ''}`} aria-label={name}>
      <div className="place-says">
        <h3>
          {name} {code === '' ? null : <code>{code}</code>}
        </h3>
        {runs.length === 0 ? <p className="quiet">nothing runs</p> : null}
        {runs.map((run) => (
          <div key={run.run}>
            <p>
              <strong>{run.name}</strong>, {run.kind}
              {run.planned === null ? '' : ` of ${amount(run.planned, run.unit)}`}, for {elapsedWords(now - msOf(run.startedAt))}
            </p>
            <Link className="button primary" href={`/production/runs/${encodeURIComponent(run.run)}`}>
              Go on with {run.run}
            </Link>
          </div>
        ))}
      </div>
    </article>
  );
}
