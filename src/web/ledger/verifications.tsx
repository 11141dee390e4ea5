import { writtenCount } from '../../../shared/written.js';
import { server, type View } from '../wire/client.js';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { Refused } from '../design/refused.js';
import { useStartCheck } from './use-start-check.js';

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
  const { start, busy, problem } = useStartCheck();
  return (
    <Section
      id="checks"
      title="Is the record whole?"
      note="the chain recomputed, the ledger replayed beside the live tables, every piece and kilogram counted"
      actions={
        <button type="button" disabled={busy} onClick={() => void start()}>
          Check it now
        </button>
      }
    >
      {problem ? <Refused problem={problem} /> : null}
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

/** The steps of a check, in the order in which it takes them: what is done, and of what it counts. */
const STEPS: Readonly<Record<string, readonly [what: string, of: string]>> = {
  chain: ['the chain', 'entries'],
  replay: ['replaying', 'entries'],
  compare: ['comparing', 'tables'],
  files: ['stored files', 'files'],
};

function Running({ check: { step, done, of } }: { check: Verification }) {
  const [what, counted] = STEPS[step] ?? [step, ''];
  const nth = Object.keys(STEPS).indexOf(step) + 1;
  const says =
    of === 0 ? `step ${nth} of 4, ${what}` : `step ${nth} of 4, ${what}: ${writtenCount(done)} of ${writtenCount(of)} ${counted}`;
  return (
    <span>
      <progress {...(of === 0 ? {} : { max: of, value: done })} aria-label="How far the check is" /> {says}
    </span>
  );
}

function Outcome({ check }: { check: Verification }) {
  if (check.state === 'running') return <Running check={check} />;
  if (check.state === 'sound') return <>whole</>;
  if (check.state === 'interrupted') return <>stopped before it was done; start another</>;
  return (
    <div className="urgent">
      {writtenCount(check.faults.length)} {check.faults.length === 1 ? 'fault' : 'faults'}
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
