import { writtenDate, writtenDecimal } from '../../../shared/written.js';
import { Link } from 'wouter';
import { localWritten } from '../app/clock.js';
import { useMay, useSession } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { Entries } from '../design/entries.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Caution, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Reversal } from '../design/reversal.js';
import { Stamp } from '../design/stamp.js';
import { server, type View } from '../wire/client.js';
import './dispatch.css';

type Shipment = View<'ShipmentView'>;

/** A shipment: on paper, the dispatch note that goes with the goods. */
export function ShipmentPage({ shipment }: { shipment: string }) {
  const { plant } = useSession();
  const query = server.useQuery('get', '/api/shipments/{shipment}', { params: { path: { shipment } } });
  return (
    <Answered query={query} what={`shipment ${shipment}`}>
      {(sent) => (
        <Page
          crumb="Dispatch"
          title={sent.shipment}
          stamps={sent.reversed ? <Stamp word="Reversed" /> : null}
          sub={`${sent.documentType ?? 'document not known'} ${sent.document ?? ''}, left ${localWritten(sent.shippedAt)}`}
          actions={
            <>
              <button type="button" onClick={() => window.print()}>
                Print the dispatch note
              </button>
              <a className="button" href={`/api/shipments/${encodeURIComponent(shipment)}.csv`} download>
                As CSV
              </a>
              {sent.reversed ? null : (
                <Link
                  className="button"
                  href={`/dispatch/returns?shipment=${encodeURIComponent(shipment)}&customer=${encodeURIComponent(sent.customer)}`}
                >
                  Log a return
                </Link>
              )}
            </>
          }
        >
          {sent.reversed ? (
            <Caution>Recorded in error: {sent.reversed.reason}. Its goods stand where they were said to have left from.</Caution>
          ) : null}
          <dl className="parties">
            <div>
              <dt>From</dt>
              <dd>
                {plant}
                <br />
                {sent.locationName ?? sent.location}
              </dd>
            </div>
            <div>
              <dt>To</dt>
              <dd>
                {sent.customerName} (<Refer kind="customer" code={sent.customer} />)<br />
                {sent.customerContact}
                {sent.customerGln === null ? null : (
                  <>
                    <br />
                    GLN {sent.customerGln}
                  </>
                )}
              </dd>
            </div>
            <div>
              <dt>Who pays</dt>
              <dd>
                <Refer kind="customer" code={sent.billTo} />
              </dd>
            </div>
          </dl>
          {sent.note === null ? null : <p>{sent.note}</p>}
          <Section title="Lines">
            <Lines lines={sent.lines} />
          </Section>
          {sent.reversed ? null : <Reverse shipment={sent} />}
          <Entries about={{ shipment }} />
        </Page>
      )}
    </Answered>
  );
}

function Lines({ lines }: { lines: Shipment['lines'] }) {
  return (
    <LedgerTable
      caption="What went"
      rows={lines}
      rowKey={({ lot, pieces, quantity }) => `${lot} ${pieces} ${quantity}`}
      columns={[
        { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
        {
          head: 'What',
          cell: ({ item, description, gtin }) => (
            <>
              {description}{' '}
              <span className="quiet">
                {item}
                {gtin === null ? '' : `, GTIN ${gtin}`}
              </span>
            </>
          ),
        },
        {
          head: 'Pieces',
          cell: ({ pieces, serials }) => (
            <>
              {pieces}
              {serials.length === 0 ? null : <div className="quiet">{serials.join(', ')}</div>}
            </>
          ),
        },
        { head: 'Quantity', num: true, cell: ({ quantity, unit }) => writtenDecimal(quantity, unit) },
        { head: 'Expires', cell: ({ expiresOn }) => (expiresOn === null ? '' : writtenDate(expiresOn)) },
        { head: 'Remarks', cell: (line) => <Remarks line={line} /> },
      ]}
    />
  );
}

function Remarks({ line }: { line: Shipment['lines'][number] }) {
  return (
    <>
      {line.urgentReleases.length === 0 ? null : <div className="urgent">under urgent release {line.urgentReleases.join(', ')}</div>}
      {line.passedOver.length === 0 ? null : (
        <div>
          older stock left standing: {line.passedOver.join(', ')} ({line.pickReason ?? 'no reason given'})
        </div>
      )}
    </>
  );
}

function Reverse({ shipment: { shipment, lines } }: { shipment: Shipment }) {
  if (!useMay('dispatcher', 'administrator')) return null;
  return (
    <Reversal
      path="/api/shipments/{shipment}/reversal"
      address={{ shipment }}
      code={shipment}
      title="Recorded in error?"
      note="Another entry takes it back; both stay readable."
    >
      The record will say that these goods never left:{' '}
      {lines.map(({ lot, quantity, unit }) => `${writtenDecimal(quantity, unit)} of ${lot}`).join(', ')}. Goods that did leave and came back
      are a return, not a reversal.
    </Reversal>
  );
}
