import { useSearchParams } from 'wouter';
import { writtenCount, writtenDecimal } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { useParties } from '../design/choices.js';
import { CodeField } from '../design/code-field.js';
import { TextField } from '../design/fields.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Page } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Stamp } from '../design/stamp.js';
import { server, type View } from '../wire/client.js';
import { DispatchTabs } from './dispatch-tabs.js';

const SHOWN = 200;

/** Shipments, the latest first, narrowed to a customer, a lot or an item. */
export function Shipments() {
  const [asked, setAsked] = useSearchParams();
  const customers = useParties('customer');
  const filter = Object.fromEntries(asked);
  const query = server.useQuery('get', '/api/shipments', { params: { query: filter } });
  const narrow = (key: string, value: string): void => {
    const next = new URLSearchParams(asked);
    if (value.trim() === '') next.delete(key);
    else next.set(key, value.trim());
    setAsked(next, { replace: true });
  };
  return (
    <Page
      title="Shipments"
      name="Shipments"
      crumb="Dispatch"
      facts={[{ label: 'Shipments', value: writtenCount(query.data?.length ?? 0) }]}
    >
      <DispatchTabs />
      <div className="grid filters">
        <CodeField
          name="customer"
          label="Customer"
          choices={customers}
          value={filter['customer'] ?? ''}
          onValue={(value) => narrow('customer', value)}
        />
        <TextField name="lot" label="Lot" code value={filter['lot'] ?? ''} onChange={(event) => narrow('lot', event.target.value)} />
        <TextField name="item" label="Item" code value={filter['item'] ?? ''} onChange={(event) => narrow('item', event.target.value)} />
        <a className="button" href={`/api/shipments.csv?${asked.toString()}`} download>
          These as CSV
        </a>
      </div>
      <Answered query={query} what="shipments">
        {(shipments) => (
          <>
            <ShipmentTable shipments={shipments.toSorted((a, b) => b.seq - a.seq).slice(0, SHOWN)} />
            {shipments.length > SHOWN ? (
              <p className="quiet">
                The latest {SHOWN} of {writtenCount(shipments.length)} are shown: narrow the list, or take it as CSV.
              </p>
            ) : null}
          </>
        )}
      </Answered>
    </Page>
  );
}

function ShipmentTable({ shipments }: { shipments: readonly View<'ShipmentView'>[] }) {
  return (
    <LedgerTable
      caption="Shipments, the latest first"
      rows={shipments}
      rowKey={({ shipment }) => shipment}
      columns={[
        { head: 'Shipment', cell: ({ shipment }) => <Refer kind="shipment" code={shipment} /> },
        { head: 'Left', whole: true, cell: ({ shippedAt }) => localWritten(shippedAt) },
        {
          head: 'Customer',
          cell: ({ customer, customerName }) => (
            <>
              <Refer kind="customer" code={customer} /> {customerName}
            </>
          ),
        },
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
          cell: ({ lines }) => lines.map(({ lot, quantity, unit }) => `${lot}: ${writtenDecimal(quantity, unit)}`).join('; '),
        },
      ]}
      empty={
        <Empty>
          <p>No shipment like that. Shipments are recorded under Ship; here they are found again.</p>
        </Empty>
      }
    />
  );
}
