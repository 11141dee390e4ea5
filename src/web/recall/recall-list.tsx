import { Link } from 'wouter';
import { inWords, writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Page } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Stamp } from '../design/stamp.js';
import { server } from '../wire/client.js';

/** Every recall and every drill, the open ones first. */
export function RecallList() {
  const query = server.useQuery('get', '/api/recalls');
  const mayOpen = useMay('quality', 'recall-lead');
  const recalls = query.data ?? [];
  const open = recalls.filter(({ status, drill }) => status === 'open' && !drill).length;
  return (
    <Page
      title="Recall"
      sub="A recall freezes a trace: what is affected, who has it, and from then on how much of it has come back."
      facts={[
        { label: 'Open', value: writtenCount(open), warn: open > 0 },
        { label: 'Drills', value: writtenCount(recalls.filter(({ drill }) => drill).length) },
        { label: 'In all', value: writtenCount(recalls.length) },
      ]}
      actions={
        mayOpen ? (
          <Link className="button primary" href="/recall/new">
            Open a recall or a drill
          </Link>
        ) : null
      }
    >
      <Answered query={query} what="recalls">
        {(all) => (
          <LedgerTable
            caption="Recalls and drills"
            rows={all.toSorted((a, b) => Number(b.status === 'open') - Number(a.status === 'open') || b.seq - a.seq)}
            rowKey={({ recall }) => recall}
            columns={[
              { head: 'Recall', cell: ({ recall }) => <Refer kind="recall" code={recall} /> },
              {
                head: 'What',
                cell: ({ title, drill }) => (
                  <>
                    {drill ? <Stamp word="Drill" small /> : null} {title}
                  </>
                ),
              },
              { head: 'Kind', cell: ({ type }) => inWords(type) },
              { head: 'Class', cell: (one) => one.class ?? 'not set' },
              { head: 'State', cell: ({ status }) => status },
              {
                head: 'Opened',
                cell: ({ openedAt, openedBy }) => (
                  <>
                    {localWritten(openedAt)} by <code>{openedBy}</code>
                  </>
                ),
              },
            ]}
            empty={
              <Empty>
                <p>
                  No recall has been opened. Trace the bad lot first, look at both scopes, and open a recall from there. Practise it: a
                  drill is a recall marked as such on every page, and nobody is told.
                </p>
                <p>
                  <Link href="/trace">Trace a lot</Link>
                </p>
              </Empty>
            }
          />
        )}
      </Answered>
    </Page>
  );
}
