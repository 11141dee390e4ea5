import { writtenDecimal } from '../../../shared/written.js';
import { Link } from 'wouter';
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

/** One return: what came back, from whom, and what it went out in. */
export function ReturnPage({ returned }: { returned: string }) {
  const query = server.useQuery('get', '/api/returns/{returned}', { params: { path: { returned } } });
  return (
    <Answered query={query} what={`return ${returned}`}>
      {(back) => (
        <Page
          crumb="Dispatch · returns"
          title={back.returned}
          stamps={back.reversed ? <Stamp word="Reversed" /> : null}
          sub={`${back.documentType} ${back.document}, came back ${localWritten(back.returnedAt)} to ${back.location}, ${back.condition}`}
          actions={
            <Link className="button" href={`/nonconformance/new?lot=${back.lines[0]?.lot ?? ''}&pieces=${back.lines[0]?.pieces ?? ''}`}>
              Raise a report on it
            </Link>
          }
        >
          {back.reversed ? <Caution>Booked in error: {back.reversed.reason}.</Caution> : null}
          {back.note === null ? null : <p>{back.note}</p>}
          <Section
            title="Lines"
            note={
              <>
                from <Refer kind="customer" code={back.customer} />
              </>
            }
          >
            <LedgerTable
              caption="What came back"
              rows={back.lines}
              rowKey={({ lot, pieces, shipment }) => `${lot} ${pieces} ${shipment}`}
              columns={[
                { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
                { head: 'Item', cell: ({ item }) => <Refer kind="item" code={item} /> },
                { head: 'Pieces', cell: ({ pieces }) => pieces },
                { head: 'Quantity', num: true, cell: ({ quantity, unit }) => writtenDecimal(quantity, unit) },
                {
                  head: 'Went out in',
                  cell: ({ shipment, shipmentNamed }) => (
                    <>
                      <Refer kind="shipment" code={shipment} />
                      {shipmentNamed ? '' : ' (not named: the oldest still out)'}
                    </>
                  ),
                },
                { head: 'Is now', cell: ({ becomes }) => (becomes === null ? 'the pieces it was' : <Refer kind="lot" code={becomes} />) },
              ]}
            />
          </Section>
          {back.reversed ? null : <Reverse returned={back} />}
          <Entries about={{ return: returned }} />
        </Page>
      )}
    </Answered>
  );
}

function Reverse({ returned: { returned, customer } }: { returned: View<'ReturnView'> }) {
  if (!useMay('clerk', 'dispatcher', 'administrator')) return null;
  return (
    <Reversal
      path="/api/returns/{returned}/reversal"
      address={{ returned }}
      code={returned}
      note="Another entry takes it back; both stay readable."
    >
      The record will say that these goods are still with {customer}.
    </Reversal>
  );
}
