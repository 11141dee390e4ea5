import { useState } from 'react';
import { Link } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { instantOfLocal, localDate } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { AgeBar, AgeingBars } from '../pictures/ageing-bars.js';
import { server } from '../wire/client.js';
import { daysWritten } from './ages.js';
import { CsvLink, type Period } from './csv-link.js';
import { CostFigures } from './cost-figures.js';
import { Overdue } from './overdue.js';
import { ParetoFigures } from './pareto-figures.js';
import { RightFirstTime } from './right-first-time.js';
import { SeverityMark } from './severity.js';
import { asTitle } from './words.js';

/** What nonconformance tells the plant: what goes wrong most, what waits longest, what it costs. */
export function FiguresPage() {
  const [days, setDays] = useState({ from: '', to: '' });
  const period: Period = {
    ...(days.from === '' ? {} : { from: instantOfLocal(`${days.from}T00:00`) }),
    ...(days.to === '' ? {} : { to: instantOfLocal(`${days.to}T24:00`) }),
  };
  return (
    <Page
      crumb={<Link href="/nonconformance">Nonconformance</Link>}
      title="Figures"
      sub="What goes wrong most, what waits longest, what it costs, and how often it was right the first time."
    >
      <form className="filters no-print" onSubmit={(event) => event.preventDefault()} aria-label="Period">
        <div className="field">
          <label htmlFor="from">From</label>
          <input id="from" type="date" value={days.from} onChange={(event) => setDays({ ...days, from: event.target.value })} />
        </div>
        <div className="field">
          <label htmlFor="to">To, this day included</label>
          <input id="to" type="date" value={days.to} onChange={(event) => setDays({ ...days, to: event.target.value })} />
        </div>
        <div className="row">
          <button type="button" onClick={() => setDays({ from: `${localDate().slice(0, 4)}-01-01`, to: '' })}>
            This year
          </button>
          <button type="button" onClick={() => setDays({ from: '', to: '' })}>
            All time
          </button>
        </div>
      </form>
      <ParetoFigures period={period} />
      <CostFigures period={period} />
      <RightFirstTime period={period} />
      <Ageing />
      <Overdue />
    </Page>
  );
}

function Ageing() {
  const query = server.useQuery('get', '/api/figures/ageing');
  return (
    <Section title="Open reports by age" note="as they stand today, whatever period is chosen" actions={<CsvLink file="ageing" />}>
      <Answered query={query} what="how old open reports are">
        {({ states, reports }) => (
          <>
            <AgeingBars
              caption="Open reports by state and age"
              rows={states.map(({ state, upTo7, from8To30, from31To90, over90 }) => ({
                label: asTitle(state),
                counts: [upTo7, from8To30, from31To90, over90],
              }))}
            />
            {reports.length === 0 ? null : (
              <LedgerTable
                caption={`${writtenCount(reports.length)} open reports, oldest first`}
                rows={reports}
                rowKey={({ report }) => report}
                columns={[
                  { head: 'Report', cell: ({ report }) => <Refer kind="report" code={report} /> },
                  { head: 'Severity', cell: ({ severity }) => <SeverityMark severity={severity} /> },
                  {
                    head: 'Open for',
                    cell: ({ daysOpen }) => <AgeBar days={daysOpen} of={reports[0]?.daysOpen ?? 1} says={daysWritten(daysOpen)} />,
                  },
                  {
                    head: 'State',
                    cell: ({ state, daysInState }) =>
                      `${asTitle(state)}, ${daysInState === 0 ? 'since today' : `for ${daysWritten(daysInState)}`}`,
                  },
                  { head: 'Requirement', cell: ({ requirement }) => requirement },
                ]}
              />
            )}
          </>
        )}
      </Answered>
    </Section>
  );
}
