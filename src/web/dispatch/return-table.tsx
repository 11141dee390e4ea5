import { writtenCount, writtenDecimal } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Stamp } from '../design/stamp.js';
import { server } from '../wire/client.js';

/** What came back so far, the latest first. */
export function ReturnTable() {
  const query = server.useQuery('get', '/api/returns');
  return (
    <Answered query={query} what="returns">
      {(returns) => (
        <Section title="Came back" note={`${writtenCount(returns.length)} returns`}>
          <LedgerTable
            caption="Returns, the latest first"
            rows={returns.toSorted((a, b) => b.seq - a.seq)}
            rowKey={({ returned }) => returned}
            columns={[
              { head: 'Return', cell: ({ returned }) => <Refer kind="returned" code={returned} /> },
              { head: 'When', cell: ({ returnedAt }) => localWritten(returnedAt) },
              { head: 'Customer', cell: ({ customer }) => <Refer kind="customer" code={customer} /> },
              {
                head: 'Paper',
                cell: ({ documentType, document, reversed }) => (
                  <>
                    {documentType} {document} {reversed ? <Stamp word="Reversed" small /> : null}
                  </>
                ),
              },
              {
                head: 'What',
                cell: ({ lines }) =>
                  lines.map(({ lot, pieces, quantity, unit }) => `${lot}: ${pieces ?? writtenDecimal(quantity, unit)}`).join('; '),
              },
            ]}
            empty={
              <Empty>
                <p>Nothing has come back. When something does, scan its label: the record knows who had it.</p>
              </Empty>
            }
          />
        </Section>
      )}
    </Answered>
  );
}
