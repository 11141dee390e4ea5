import { writtenCount, writtenDate } from '../../../shared/written.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server } from '../wire/client.js';
import { daysWritten } from './ages.js';
import { CsvLink } from './csv-link.js';
import { SeverityMark } from './severity.js';

/** Actions that are not done and checks that nobody made although their day is past. */
export function Overdue() {
  const query = server.useQuery('get', '/api/figures/overdue-actions');
  return (
    <Section title="Overdue" note="actions not done and checks not made, as they stand today" actions={<CsvLink file="overdue-actions" />}>
      <Answered query={query} what="what is overdue">
        {(rows) => (
          <LedgerTable
            caption={`${writtenCount(rows.length)} overdue, the longest first`}
            rows={rows}
            rowKey={({ report, what, action, subject }) => `${report} ${what} ${action} ${subject}`}
            columns={[
              { head: 'Report', cell: ({ report }) => <Refer kind="report" code={report} /> },
              { head: 'Severity', cell: ({ severity }) => <SeverityMark severity={severity} /> },
              {
                head: 'What',
                cell: ({ what, action, subject }) => `${what === 'action' ? `Action ${action}` : 'Check of effectiveness'}: ${subject}`,
              },
              { head: 'Owner', cell: ({ owner }) => (owner === null ? 'quality' : <code>{owner}</code>) },
              { head: 'Due', cell: ({ dueOn }) => writtenDate(dueOn) },
              { head: 'Overdue', num: true, cell: ({ daysOverdue }) => <span className="urgent">{daysWritten(daysOverdue)}</span> },
            ]}
            empty={
              <Empty>
                <p>Nothing is overdue.</p>
              </Empty>
            }
          />
        )}
      </Answered>
    </Section>
  );
}
