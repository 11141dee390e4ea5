import { writtenDate, writtenDecimal } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { Entries } from '../design/entries.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Caution, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Reversal } from '../design/reversal.js';
import { Stamp } from '../design/stamp.js';
import { server, type View } from '../wire/client.js';
import { Labels } from './labels.js';

/** One delivery as it was booked. */
export function DeliveryPage({ delivery }: { delivery: string }) {
  const query = server.useQuery('get', '/api/deliveries/{delivery}', { params: { path: { delivery } } });
  return (
    <Answered query={query} what={`delivery ${delivery}`}>
      {(booked) => (
        <Page
          crumb="Receiving"
          title={booked.delivery}
          stamps={booked.reversed ? <Stamp word="Reversed" /> : null}
          sub={`${booked.documentType} ${booked.document}, arrived ${localWritten(booked.receivedAt)} at ${booked.location}, ${booked.condition}`}
          facts={[{ label: 'Lots', value: booked.lines.length }]}
        >
          {booked.reversed ? <Caution>Booked in error: {booked.reversed.reason}. Its lots count as never found.</Caution> : null}
          {booked.note === null ? null : <p>{booked.note}</p>}
          <Section
            title="Lines"
            note={
              <>
                from <Refer kind="supplier" code={booked.supplier} />
              </>
            }
          >
            <Lines lines={booked.lines} />
          </Section>
          {booked.reversed ? null : (
            <Section title="Labels" screenOnly>
              <Labels delivery={delivery} />
            </Section>
          )}
          {booked.reversed ? null : <Reverse delivery={booked} />}
          <Entries about={{ delivery }} />
        </Page>
      )}
    </Answered>
  );
}

function Lines({ lines }: { lines: View<'DeliveryView'>['lines'] }) {
  return (
    <LedgerTable
      caption="Lines of the delivery"
      rows={lines}
      rowKey={({ lot }) => lot}
      columns={[
        { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
        { head: 'Item', cell: ({ item }) => <Refer kind="item" code={item} /> },
        { head: 'Quantity', num: true, cell: ({ quantity, unit }) => writtenDecimal(quantity, unit) },
        {
          head: 'Supplier’s lot',
          cell: ({ supplierLot, supplierLotAssigned }) => (supplierLotAssigned ? 'none on the label' : <code>{supplierLot}</code>),
        },
        { head: 'Containers', num: true, cell: ({ containers }) => containers ?? '' },
        {
          head: 'Expires',
          cell: ({ expiresOn, expiredOnArrival }) => (
            <>
              {expiresOn === null ? '' : writtenDate(expiresOn)} {expiredOnArrival ? <Stamp word="Expired" small /> : null}
            </>
          ),
        },
        { head: 'Came before as', cell: ({ earlier }) => earlier.map((lot) => <Refer key={lot} kind="lot" code={lot} />) },
      ]}
    />
  );
}

/** A delivery booked wrongly is put right by another entry, as long as nothing of it has gone on. */
function Reverse({ delivery: { delivery, lines } }: { delivery: View<'DeliveryView'> }) {
  if (!useMay('clerk', 'administrator')) return null;
  return (
    <Reversal
      path="/api/deliveries/{delivery}/reversal"
      address={{ delivery }}
      code={delivery}
      note="Nothing is edited: another entry takes the delivery back and both stay readable."
    >
      This takes {lines.length === 1 ? '1 lot' : `${lines.length} lots`} out of the plant ({lines.map(({ lot }) => lot).join(', ')}): they
      keep their codes and count as never found. It is refused once anything of them has gone on.
    </Reversal>
  );
}
