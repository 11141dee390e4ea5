import { writtenCount } from '../../../shared/written.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { AgeBar, AgeingBars } from '../pictures/ageing-bars.js';
import { server, type View } from '../wire/client.js';
import { daysWritten } from './ages.js';
import { CsvLink } from './csv-link.js';
import { SeverityMark } from './severity.js';
import { asTitle } from './words.js';

/** How long open reports have been waiting, by state and one by one. */
export function Ageing() {
  const query = server.useQuery('get', '/api/figures/ageing');
  return (
    <Section title="Open reports by age" note="as they stand today, whatever period is chosen" actions={<CsvLink file="ageing" />}>
      <Answered query={query} what="how old open reports are">
        {(ageing) => <Aged ageing={ageing} />}
      </Answered>
    </Section>
  );
}

function Aged({ ageing: { states, reports } }: { ageing: View<'AgeingView'> }) {
  if (reports.length === 0) {
    return (
      <Empty>
        <p>No report is open.</p>
      </Empty>
    );
  }
  const oldest = reports[0]?.daysOpen ?? 1;
  return (
    <>
      <AgeingBars
        caption="Open reports by state and age"
        rows={states.map(({ state, upTo7, from8To30, from31To90, over90 }) => ({
          label: asTitle(state),
          counts: [upTo7, from8To30, from31To90, over90],
        }))}
      />
      <LedgerTable
        caption={`${writtenCount(reports.length)} open reports, oldest first`}
        rows={reports}
        rowKey={({ report }) => report}
        columns={[
          { head: 'Report', cell: ({ report }) => <Refer kind="report" code={report} /> },
          { head: 'Severity', cell: ({ severity }) => <SeverityMark severity={severity} /> },
          { head: 'Open for', cell: ({ daysOpen }) => <AgeBar days={daysOpen} of={oldest} says={daysWritten(daysOpen)} /> },
          { head: 'State', cell: ({ state }) => asTitle(state) },
          { head: 'In it for', cell: ({ daysInState }) => daysWritten(daysInState) },
          { head: 'Requirement', cell: ({ requirement }) => requirement },
        ]}
      />
    </>
  );
}
