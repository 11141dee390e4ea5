import { writtenCount } from '../../../shared/written.js';
import { server, type View } from '../wire/client.js';
import { useCommand } from '../wire/use-command.js';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { Refused } from '../design/refused.js';

type Verification = View<'VerificationView'>;
const RUNNING_MS = 1000;

/** Checks of the whole record: started here, done by the server, looked at whenever one likes. */
export function Verifications() {
  const query = server.useQuery(
    'get',
    '/api/ledger/verifications',
    {},
    {
      refetchInterval: ({ state }) => (state.data?.some((one) => one.state === 'running') ? RUNNING_MS : false),
    },
  );
  const start = useCommand('/api/ledger/verifications');
  return (
    <Section
      title="Is the record whole?"
      note="the chain recomputed, the ledger replayed beside the live tables, every piece and kilogram counted"
      actions={
        <button type="button" disabled={start.busy} onClick={() => void start.run({})}>
          Check it now
        </button>
      }
    >
      {start.problem ? <Refused problem={start.problem} /> : null}
      <Answered query={query} what="earlier checks">
        {(checks) => (
          <LedgerTable
            caption="Checks of the record"
            rows={checks}
            rowKey={({ verification }) => verification}
            columns={[
              { head: 'Started', cell: ({ startedAt }) => localWritten(startedAt) },
              { head: 'By', cell: ({ startedBy }) => <code>{startedBy}</code> },
              { head: 'Found', cell: (check) => <Outcome check={check} /> },
              { head: 'Entries', num: true, cell: ({ entries }) => (entries === null ? '' : writtenCount(entries)) },
              { head: 'Files', num: true, cell: ({ files }) => (files === null ? '' : writtenCount(files)) },
            ]}
            empty={
              <Empty>
                <p>The record has not been checked from here yet. A check can be left alone: its outcome stays in this list.</p>
              </Empty>
            }
          />
        )}
      </Answered>
    </Section>
  );
}

function Outcome({ check }: { check: Verification }) {
  if (check.state === 'running') {
    return (
      <span>
        <progress max={check.of} value={check.done} aria-label={check.step} /> {check.step}
      </span>
    );
  }
  if (check.state === 'sound') return <>whole</>;
  if (check.state === 'interrupted') return <>stopped before it was done; start another</>;
  return (
    <div className="urgent">
      {writtenCount(check.faults.length)} faults
      <ul>
        {check.faults.map((fault) => (
          <li key={`${fault.what} ${fault.where}`}>
            {fault.where}: {fault.detail}
          </li>
        ))}
      </ul>
    </div>
  );
}
