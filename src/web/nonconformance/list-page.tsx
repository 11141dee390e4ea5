import { useState } from 'react';
import { Link, useSearch } from 'wouter';
import { inWords, writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Caution, Empty, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { AgeBar } from '../pictures/ageing-bars.js';
import { server, type View } from '../wire/client.js';
import { daysSince, daysWritten } from './ages.js';
import { type Filter, Filters, matchesFilter } from './list-filters.js';
import { SeverityMark } from './severity.js';
import { asTitle, isOpen, SEVERITIES, waitsFor } from './words.js';

type Line = View<'ReportLineView'>;
type Overdue = View<'OverdueView'>;

/** Every report: the open ones by how grave and how old they are, what each waits for; the closed ones below, to be found again. */
export function ListPage() {
  const lot = new URLSearchParams(useSearch()).get('lot') ?? '';
  const query = server.useQuery('get', '/api/reports', { params: { query: lot === '' ? {} : { lot } } });
  const overdue = server.useQuery('get', '/api/figures/overdue-actions');
  const [filter, setFilter] = useState<Filter>({ text: '', severity: '', state: '' });
  const mayRaise = useMay('clerk', 'operator', 'inspector', 'quality', 'dispatcher', 'recall-lead', 'administrator');
  if (query.data === undefined) {
    return (
      <Page title="Nonconformance">
        <Answered query={query} what="the reports">
          {() => null}
        </Answered>
      </Page>
    );
  }
  const all = query.data;
  const lines = all.filter((line) => matchesFilter(line, filter));
  const open = lines.filter(({ state }) => isOpen(state));
  const late = overdue.data ?? [];
  return (
    <Page
      title="Nonconformance"
      sub={lot === '' ? 'What does not meet its requirement, from raised to closed.' : `Reports that affect ${lot}.`}
      facts={totals(all, late)}
      actions={
        <>
          {mayRaise ? (
            <Link className="button primary" href="/nonconformance/new">
              Raise a report
            </Link>
          ) : null}
          <Link className="button" href="/nonconformance/figures">
            Figures
          </Link>
          <Link className="button" href="/nonconformance/review-rule">
            Who signs
          </Link>
        </>
      }
    >
      <Filters filter={filter} onFilter={setFilter} shown={lines.length} of={all.length} />
      <OpenReports open={open} late={late} empty={emptyWords(all, lines.length < all.length)} />
      <ClosedReports closed={lines.filter(({ state }) => !isOpen(state)).toSorted((a, b) => (a.stateAt > b.stateAt ? -1 : 1))} />
    </Page>
  );
}

const totals = (all: readonly Line[], late: readonly Overdue[]) => {
  const open = all.filter(({ state }) => isOpen(state));
  return [
    { label: 'Open', value: writtenCount(open.length) },
    ...SEVERITIES.map((severity) => {
      const count = open.filter((line) => line.severity === severity).length;
      return { label: asTitle(severity), value: writtenCount(count), warn: severity === 'critical' && count > 0 };
    }),
    { label: 'Actions overdue', value: writtenCount(late.length), warn: late.length > 0 },
    { label: 'Closed', value: writtenCount(all.filter(({ state }) => state === 'closed').length) },
  ];
};

function emptyWords(all: readonly Line[], filtered: boolean): string {
  if (filtered) return 'No open report matches what is looked for. Clear the filters to see all.';
  if (all.length > 0) return 'No report is open. Closed ones stand below.';
  return 'No report yet. Whoever finds something that does not meet its requirement raises one: on goods here, in production, or shipped long ago. From an inspection that was not accepted, “Raise a report” brings its findings along.';
}

function OpenReports({ open, late, empty }: { open: readonly Line[]; late: readonly Overdue[]; empty: string }) {
  const oldest = Math.max(1, ...open.map(({ raisedAt }) => daysSince(raisedAt)));
  const critical = open.filter(({ severity }) => severity === 'critical').length;
  return (
    <Section title="Open" note="the gravest first, then the oldest">
      {critical > 0 ? (
        <Caution>
          <p>
            <strong>
              {writtenCount(critical)} critical {critical === 1 ? 'report is' : 'reports are'} open.
            </strong>{' '}
            Somebody may come to harm by it: what was shipped is asked about first.
          </p>
        </Caution>
      ) : null}
      <LedgerTable
        caption="Open reports, the gravest first, then the oldest"
        rows={open}
        rowKey={({ report }) => report}
        rowClass={({ severity }) => (severity === 'critical' ? 'affected' : undefined)}
        columns={[
          { head: 'Report', cell: ({ report }) => <Refer kind="report" code={report} /> },
          { head: 'Severity', cell: ({ severity }) => <SeverityMark severity={severity} /> },
          {
            head: 'Age',
            cell: ({ raisedAt }) => <AgeBar days={daysSince(raisedAt)} of={oldest} says={daysWritten(daysSince(raisedAt))} />,
          },
          { head: 'Requirement not met', cell: (line) => <What line={line} /> },
          { head: 'State', cell: ({ state, stateAt }) => <StateSince state={state} at={stateAt} /> },
          { head: 'Waits for', cell: (line) => <Waits line={line} late={late} /> },
        ]}
        empty={
          <Empty>
            <p>{empty}</p>
          </Empty>
        }
      />
    </Section>
  );
}

const What = ({ line }: { line: Line }) => (
  <>
    {line.requirement}
    <div className="quiet">
      {line.lots.slice(0, 3).map((lot, i) => (
        <span key={lot}>
          {i > 0 ? ', ' : ''}
          <Refer kind="lot" code={lot} />
        </span>
      ))}
      {line.lots.length === 0 ? 'no lot named' : ''}
      {line.lots.length > 3 ? ` and ${writtenCount(line.lots.length - 3)} more` : ''}; raised by <code>{line.raisedBy}</code>
    </div>
  </>
);

const StateSince = ({ state, at }: { state: Line['state']; at: string }) => (
  <>
    {asTitle(state)}
    <div className="quiet">{daysSince(at) === 0 ? 'since today' : `for ${daysWritten(daysSince(at))}`}</div>
  </>
);

function Waits({ line, late }: { line: Line; late: readonly Overdue[] }) {
  const { what, who } = waitsFor(line.state);
  const own = late.filter(({ report }) => report === line.report);
  return (
    <>
      {asTitle(what)}
      <div className="quiet">{who}</div>
      {own.map((one) => (
        <div key={`${one.what} ${one.action}`} className="urgent">
          {one.what === 'action' ? `Action ${one.action}, ${one.owner}` : 'Check of effectiveness'}: {daysWritten(one.daysOverdue)} overdue
        </div>
      ))}
    </>
  );
}

function ClosedReports({ closed }: { closed: readonly Line[] }) {
  if (closed.length === 0) return null;
  return (
    <Section
      title="Closed and withdrawn"
      note={`${writtenCount(closed.length)}, the latest first; what was found once helps to find it again`}
    >
      <LedgerTable
        caption="Closed and withdrawn reports"
        rows={closed}
        rowKey={({ report }) => report}
        columns={[
          { head: 'Report', cell: ({ report }) => <Refer kind="report" code={report} /> },
          { head: 'Severity', cell: ({ severity }) => <SeverityMark severity={severity} /> },
          { head: 'Requirement not met', cell: (line) => <What line={line} /> },
          { head: 'Found', cell: ({ source, sourceCode }) => `${inWords(source)} ${sourceCode ?? ''}` },
          { head: 'Raised', cell: ({ raisedAt }) => localWritten(raisedAt) },
          { head: 'State', cell: ({ state, stateAt }) => `${asTitle(state)} ${localWritten(stateAt)}` },
        ]}
      />
    </Section>
  );
}
