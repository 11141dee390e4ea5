import { Link, useLocation } from 'wouter';
import { Answered } from '../design/answered.js';
import { Caution, Page } from '../design/page.js';
import { server } from '../wire/client.js';
import { CorrectForm } from './correct-form.js';

/** Puts the record of a closed run right: what was wrong and what is so stay readable side by side. */
export function CorrectPage({ code }: { code: string }) {
  const [, go] = useLocation();
  const query = server.useQuery('get', '/api/runs/{run}', { params: { path: { run: code } } });
  const there = `/production/runs/${encodeURIComponent(code)}`;
  return (
    <Answered query={query} what={`run ${code}`}>
      {(run) => (
        <Page
          crumb={
            <>
              <Link href="/production">Production</Link> · <Link href={there}>{run.run}</Link>
            </>
          }
          title={`Put the record of ${run.run} right`}
          sub="Nothing is edited: an entry names the one it corrects, and both stay readable. What was made of it is linked anew."
        >
          <div className="floor">
            {run.state === 'open' ? (
              <Caution>
                <p>
                  {run.run} is still running: charge, put back or change over instead. <Link href={there}>To the run</Link>
                </p>
              </Caution>
            ) : (
              <CorrectForm run={run} onDone={() => go(there)} />
            )}
          </div>
        </Page>
      )}
    </Answered>
  );
}
