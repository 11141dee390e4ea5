import { Link } from 'wouter';
import { parseQuantity } from '../../../shared/quantity.js';
import { msOf } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { server, type View } from '../wire/client.js';
import { MixingTimer } from './mixing-timer.js';
import { amount, type Run } from './run.js';
import { elapsedWords } from './time-words.js';
import { usePlantClock } from './use-plant-clock.js';
import { VesselPicture } from './vessel-picture.js';
import { nextWant } from './wants.js';

type Content = View<'VesselContentView'>;
const MINUTE = 60_000;

/** What a vessel holds or what clings to it, in one line. */
export function contentInWords(content: Content, now: number): string {
  if (content.content.length > 0) {
    const since = content.lastBatchAt === null ? '' : `, for ${elapsedWords(now - msOf(content.lastBatchAt))}`;
    return `holds ${content.content.map(({ quantity, unit, lot }) => `${amount(quantity, unit)} of ${lot}`).join(' and ')}${since}`;
  }
  if (content.openRun !== null) return `${content.openRun} runs in it`;
  if (content.leftBy !== null) return `empty, not cleaned since ${content.leftBy} went on from it: clean it before the next batch`;
  if (content.lastBatch !== null) return `empty, not cleaned since ${content.lastBatch}: what clings goes into the next batch`;
  return content.cleanedAt === null
    ? 'empty; no batch and no cleaning recorded'
    : `clean and empty, for ${elapsedWords(now - msOf(content.cleanedAt))}`;
}

/** A vessel as one sees it walking by: what runs in it, how full it is, what to do next. */
export function VesselCard({ vessel }: { vessel: View<'VesselView'> }) {
  const now = usePlantClock(MINUTE);
  const { data } = server.useQuery(
    'get',
    '/api/vessels/{vessel}/content',
    { params: { path: { vessel: vessel.code } } },
    { refetchInterval: 30_000 },
  );
  const mayStart = useMay('operator', 'administrator');
  const says = data === undefined ? 'being read' : contentInWords(data, now);
  const { data: run } = server.useQuery(
    'get',
    '/api/runs/{run}',
    { params: { path: { run: data?.openRun ?? '' } } },
    { enabled: Boolean(data?.openRun) },
  );
  const full = sum(data?.content.map(({ quantity }) => quantity)) + (data?.openRun ? sum(run?.charges.map(({ mass }) => mass)) : 0);
  return (
    <article className={`sheet place-card${data?.openRun ? ' busy' : ''}`} aria-label={vessel.name}>
      <VesselPicture content={full} capacity={vessel.capacity} says={`${vessel.name}: ${says}`} batch={Boolean(data?.openRun)} />
      <div className="place-says">
        <h3>
          <Link href={`/production/vessels/${encodeURIComponent(vessel.code)}`} className="tap">
            {vessel.name} <code>{vessel.code}</code>
          </Link>
        </h3>
        <p className="quiet">{says}</p>
        {data?.openRun && run ? <Running run={run} now={now} /> : null}
        {data !== undefined && data.openRun === null && data.leftBy === null && mayStart ? (
          <Link className="button" href={`/production/start?kind=mixing&vessel=${encodeURIComponent(vessel.code)}`}>
            Start a batch here
          </Link>
        ) : null}
      </div>
    </article>
  );
}

const sum = (quantities: readonly string[] = []): number => quantities.reduce((total, quantity) => total + parseQuantity(quantity), 0);

function Running({ run, now }: { run: Run; now: number }) {
  const next = nextWant(run);
  return (
    <>
      <p>
        <strong>{run.name}</strong>, {run.kind}, for {elapsedWords(now - msOf(run.startedAt))}.{' '}
        {next === null ? 'Everything is charged.' : `Next: ${next.name}.`}
      </p>
      <MixingTimer run={run} small />
      <Link className="button primary" href={`/production/runs/${encodeURIComponent(run.run)}`}>
        Go on with {run.run}
      </Link>
    </>
  );
}
