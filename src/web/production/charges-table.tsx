import { useState } from 'react';
import { writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { ReturnDialog } from './return-dialog.js';
import { amount, type Run, type RunCharge } from './run.js';

/** Everything that went in, in the order in which it did, and what came back of it. */
export function ChargesTable({ run }: { run: Run }) {
  const [back, setBack] = useState<RunCharge | null>(null);
  const mayReturn = useMay('operator', 'administrator') && run.state === 'open';
  return (
    <Section title="Charged" note={run.charges.length === 0 ? undefined : `${writtenCount(run.charges.length)} in all`}>
      <LedgerTable
        caption={`Charged to ${run.run}`}
        rows={run.charges}
        rowKey={({ charge }) => `${charge}`}
        rowClass={({ deviations }) => (deviations.length > 0 ? 'affected' : undefined)}
        columns={[
          { head: 'No.', num: true, cell: ({ charge }) => charge },
          { head: 'When', cell: ({ chargedAt }) => localWritten(chargedAt) },
          {
            head: 'Lot',
            cell: ({ lot, heel }) => (
              <>
                <Refer kind="lot" code={lot} />
                {heel ? ' heel' : ''}
              </>
            ),
          },
          { head: 'What', cell: (charge) => <What charge={charge} /> },
          { head: 'Quantity', num: true, cell: ({ quantity, unit }) => amount(quantity, unit) },
          ...(run.steps.length === 0 ? [] : [{ head: 'Step', num: true, cell: ({ step }: RunCharge) => step ?? '' }]),
          { head: 'By', cell: ({ by }) => <code>{by}</code> },
          ...(mayReturn
            ? [
                {
                  head: 'Unused?',
                  cell: (charge: RunCharge) =>
                    charge.quantity === '0' ? (
                      'all went back'
                    ) : (
                      <button type="button" className="plain" onClick={() => setBack(charge)} aria-label={`Put back ${charge.lot}`}>
                        Put back
                      </button>
                    ),
                },
              ]
            : []),
        ]}
        empty={
          <Empty>
            <p>Nothing has been charged yet. Scan a lot, or take one of those that are offered.</p>
          </Empty>
        }
      />
      {back === null ? null : <ReturnDialog run={run} charge={back} onClose={() => setBack(null)} />}
    </Section>
  );
}

function What({ charge }: { charge: RunCharge }) {
  return (
    <>
      {charge.name}
      {charge.supplierLot === null ? null : (
        <span className="quiet">
          {' '}
          · {charge.supplier} {charge.supplierLot}
        </span>
      )}
      {charge.pieces === null ? null : <span className="quiet"> · pieces {charge.pieces}</span>}
      {charge.into.length === 0 ? null : (
        <span className="quiet"> · into {charge.into.map(({ intoPieces }) => intoPieces).join(', ')}</span>
      )}
      {charge.returned === '0' ? null : <span className="quiet"> · {amount(charge.returned, charge.unit)} went back</span>}
      {charge.conversion === null ? null : (
        <span className="quiet">
          {' '}
          · measured as {amount(charge.conversion.given, charge.conversion.givenUnit)}, {charge.conversion.density} kg/L
        </span>
      )}
      {charge.urgentReleases.length === 0 ? null : <span className="urgent"> · by urgent release {charge.urgentReleases.join(', ')}</span>}
      {charge.deviations.length === 0 ? null : (
        <div className="urgent">
          {charge.deviations.map(({ detail }) => detail).join('; ')}. <span className="reason">Why: {charge.deviationReason}</span>
        </div>
      )}
    </>
  );
}
