import { Link } from 'wouter';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { ReplaceForm } from './replace-form.js';
import type { Run } from './run.js';

/** Parts that were replaced in units, and the form to record another. */
export function Replacements({ run }: { run: Run }) {
  const mayWork = useMay('operator', 'administrator');
  return (
    <Section title="Parts replaced" note="in units that were reworked">
      <LedgerTable
        caption={`Parts replaced in ${run.run}`}
        rows={run.replacements}
        rowKey={({ seq }) => `${seq}`}
        columns={[
          {
            head: 'Unit',
            cell: ({ unitSerial, unitLot, unitPiece }) =>
              unitSerial === null ? (
                <>
                  <Refer kind="lot" code={unitLot} /> piece {unitPiece}
                </>
              ) : (
                <Link className="code" href={`/production/units/${encodeURIComponent(run.item)}/${encodeURIComponent(unitSerial)}`}>
                  {unitSerial}
                </Link>
              ),
          },
          { head: 'Part', cell: ({ item }) => <code>{item}</code> },
          {
            head: 'Out',
            cell: ({ oldLot, oldSerial, oldPiece, oldQuantity }) => (
              <>
                {oldSerial ?? (oldPiece === null ? `${oldQuantity} of` : `piece ${oldPiece} of`)} <Refer kind="lot" code={oldLot} />
              </>
            ),
          },
          {
            head: 'In',
            cell: ({ newLot, newSerial, newPiece }) => (
              <>
                {newSerial ?? (newPiece === null ? '' : `piece ${newPiece} of`)} <Refer kind="lot" code={newLot} />
              </>
            ),
          },
          {
            head: 'When, by',
            cell: ({ at, by }) => (
              <>
                {localWritten(at)}, <code>{by}</code>
              </>
            ),
          },
          { head: 'Why', cell: ({ reason }) => reason },
          { head: 'Old part', cell: ({ location }) => location ?? 'scrapped' },
          { head: 'Entry', num: true, cell: ({ seq }) => <Refer kind="entry" code={`${seq}`} /> },
        ]}
        empty={
          <Empty>
            <p>No part was replaced yet. Scan the unit below, choose the part that comes out, and scan the one that goes in.</p>
          </Empty>
        }
      />
      {run.state === 'open' && run.kind === 'rework' && mayWork ? <ReplaceForm run={run} /> : null}
    </Section>
  );
}
