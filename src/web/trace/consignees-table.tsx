import { memo, useDeferredValue, useMemo, useState } from 'react';
import type { Consignee, TraceAnswer, TracedShipment } from '../../../shared/api/trace.js';
import { parseQuantity } from '../../../shared/quantity.js';
import { riverCustomerId } from '../../../shared/river-of-trace.js';
import { writtenCount, writtenDate, writtenQuantity, writtenSpans } from '../../../shared/written.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import type { Views } from './views.js';

const STEP = 50;
/** Of a consignee who got more, the rest of the shipments is shown on demand. */
const FIRST = 12;

/** Who was sent affected goods, with every shipment. */
export function ConsigneesTable({ answer, views }: { answer: TraceAnswer; views: Views }) {
  const { consignees, flow } = answer;
  const [most, setMost] = useState(STEP);
  const marked = useDeferredValue(views.marked);
  const names = useMemo(() => new Map((flow?.parts ?? []).map(({ customer, customerName }) => [customer, customerName])), [flow]);
  const units = useMemo(() => new Map((flow?.lots ?? []).map(({ lot, unit }) => [lot, unit])), [flow]);
  const rows = consignees.slice(0, most);
  const classOf = ({ customer }: Consignee): string => {
    const id = riverCustomerId(customer);
    return [id === marked ? 'marked' : '', id === views.chosen ? 'chosen' : ''].filter(Boolean).join(' ');
  };
  return (
    <Section title="Consignees" note={`${writtenCount(consignees.length)}, with their shipments`} id="consignees">
      <LedgerTable
        caption="Consignees of affected goods"
        rows={rows}
        rowKey={({ customer }) => customer}
        rowClass={classOf}
        onRow={(row) => views.onMark(row === null ? null : riverCustomerId(row.customer))}
        columns={[
          { head: 'Customer', cell: ({ customer }) => <Refer kind="customer" code={customer} /> },
          { head: 'Name', cell: ({ customer }) => names.get(customer) ?? '' },
          { head: 'Affected pieces', num: true, cell: ({ affectedPieces }) => writtenCount(affectedPieces) },
          { head: 'Shipments', cell: ({ shipments }) => <Shipments shipments={shipments} units={units} /> },
        ]}
        empty={<p className="quiet">None of it was dispatched.</p>}
      />
      {rows.length < consignees.length ? (
        <div className="row">
          <p className="quiet">
            {writtenCount(rows.length)} of {writtenCount(consignees.length)} consignees
          </p>
          <button type="button" className="no-print" onClick={() => setMost(consignees.length)}>
            Show all
          </button>
        </div>
      ) : null}
    </Section>
  );
}

const Shipments = memo(function Shipments({
  shipments,
  units,
}: {
  shipments: readonly TracedShipment[];
  units: ReadonlyMap<string, string>;
}) {
  const [all, setAll] = useState(shipments.length <= FIRST);
  const shown = all ? shipments : shipments.slice(0, FIRST);
  return (
    <ul className="trace-plain-list">
      {shown.map(({ shipment, at, lot, spans, quantity }) => (
        <li key={`${shipment} ${lot}`}>
          <Refer kind="shipment" code={shipment} /> {writtenDate(at)}: <code>{lot}</code>{' '}
          {spans === null ? writtenQuantity(parseQuantity(quantity), units.get(lot) ?? '') : writtenSpans(spans)}
        </li>
      ))}
      {all ? null : (
        <li>
          <button type="button" className="plain" onClick={() => setAll(true)}>
            All {writtenCount(shipments.length)} lines of shipments
          </button>
        </li>
      )}
    </ul>
  );
});
