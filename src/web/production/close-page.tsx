import { Link, useLocation } from 'wouter';
import { Answered } from '../design/answered.js';
import { Caution, Page } from '../design/page.js';
import { server } from '../wire/client.js';
import { CloseForm } from './close-form.js';
import { type Run } from './run.js';
import { useItemOf } from './use-item.js';

/** What came out of a run: said, set against what went in, looked at, and closed. */
export function ClosePage({ code }: { code: string }) {
  const query = server.useQuery('get', '/api/runs/{run}', { params: { path: { run: code } } });
  return (
    <Answered query={query} what={`run ${code}`}>
      {(run) => <Closing run={run} />}
    </Answered>
  );
}

function Closing({ run }: { run: Run }) {
  const [, go] = useLocation();
  const item = useItemOf(run.item);
  const there = `/production/runs/${encodeURIComponent(run.run)}`;
  return (
    <Page
      crumb={
        <>
          <Link href="/production">Production</Link> · <Link href={there}>{run.run}</Link>
        </>
      }
      title={`Close ${run.run}`}
      sub={`${run.name}, ${run.kind}: what came out of it`}
    >
      <div className="floor">
        {run.state === 'closed' ? (
          <Caution>
            <p>
              {run.run} is closed. <Link href={there}>See it</Link>
            </p>
          </Caution>
        ) : item === undefined ? (
          <p className="quiet" role="status">
            Reading the item …
          </p>
        ) : (
          <CloseForm run={run} item={item} onDone={() => go(there)} />
        )}
      </div>
    </Page>
  );
}
