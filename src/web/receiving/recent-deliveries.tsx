import { writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Stamp } from '../design/stamp.js';
import { server } from '../wire/client.js';

const SHOWN = 20;
const LOTS_SHOWN = 3;

/** The first few lots of a delivery, each in one piece, and how many more there are. */
function Lots({ lots }: { lots: readonly string[] }) {
  const more = lots.length - LOTS_SHOWN;
  return (
    <>
      {lots.slice(0, LOTS_SHOWN).map((lot, i) => (
        <span key={lot}>
          {i === 0 ? '' : ', '}
          <code className="whole">{lot}</code>
        </span>
      ))}
      {more > 0 ? ` and ${writtenCount(more)} more` : ''}
    </>
  );
}

/** What was booked last, to be found again for its labels. */
export function RecentDeliveries() {
  const query = server.useQuery('get', '/api/deliveries');
  return (
    <Answered query={query} what="earlier deliveries">
      {(deliveries) => (
        <Section
          title="Booked lately"
          note={`${writtenCount(Math.min(SHOWN, deliveries.length))} of ${writtenCount(deliveries.length)} deliveries`}
        >
          <LedgerTable
            caption="Deliveries, the latest first"
            rows={deliveries.toSorted((a, b) => b.seq - a.seq).slice(0, SHOWN)}
            rowKey={({ delivery }) => delivery}
            columns={[
              { head: 'Delivery', cell: ({ delivery }) => <Refer kind="delivery" code={delivery} /> },
              { head: 'Arrived', cell: ({ receivedAt }) => localWritten(receivedAt) },
              { head: 'Supplier', cell: ({ supplier }) => <code>{supplier}</code> },
              {
                head: 'Paper',
                cell: ({ documentType, document, reversed }) => (
                  <>
                    {documentType} {document} {reversed ? <Stamp word="Reversed" small /> : null}
                  </>
                ),
              },
              { head: 'Lots', cell: ({ lines }) => <Lots lots={lines.map(({ lot }) => lot)} /> },
            ]}
            empty={
              <Empty>
                <p>Nothing has been received yet. Fill in the form above, or scan the label of the first container.</p>
              </Empty>
            }
          />
        </Section>
      )}
    </Answered>
  );
}
