import { writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Page } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server } from '../wire/client.js';
import { DispatchTabs } from './dispatch-tabs.js';

/** Every business that was supplied, with how to reach it. */
export function Recipients() {
  const query = server.useQuery('get', '/api/recipients');
  return (
    <Page
      title="Recipients"
      crumb="Dispatch"
      sub="Everyone who was sent something."
      facts={[{ label: 'Recipients', value: writtenCount(query.data?.length ?? 0) }]}
    >
      <DispatchTabs />
      <Answered query={query} what="recipients">
        {(recipients) => (
          <LedgerTable
            caption="Recipients"
            rows={recipients}
            rowKey={({ customer }) => customer}
            columns={[
              { head: 'Customer', cell: ({ customer }) => <Refer kind="customer" code={customer} /> },
              { head: 'Name', cell: ({ name }) => name },
              {
                head: 'Contact',
                cell: ({ contact, gln }) => (
                  <>
                    {contact}
                    {gln === null ? null : <div className="quiet">GLN {gln}</div>}
                  </>
                ),
              },
              { head: 'Shipments', num: true, cell: ({ shipments }) => writtenCount(shipments) },
              { head: 'Lots', num: true, cell: ({ lots }) => writtenCount(lots.length) },
              { head: 'Last', cell: ({ lastShippedAt }) => localWritten(lastShippedAt) },
            ]}
            empty={
              <Empty>
                <p>Nothing has been shipped yet.</p>
              </Empty>
            }
          />
        )}
      </Answered>
    </Page>
  );
}
