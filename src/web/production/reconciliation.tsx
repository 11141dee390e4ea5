import { writtenCount, writtenQuantity } from '../../../shared/written.js';
import { MICRO } from '../../../shared/quantity.js';
import { Facts } from '../design/page.js';
import { LedgerTable } from '../design/ledger-table.js';
import { type CameOut, type ClosingFigures, percentOfBp } from './closing-figures.js';
import { amountOf, type Run } from './run.js';

/** What went in against what comes out, before it is closed. */
export function Reconciliation({
  run,
  figures,
  out,
  limits,
}: {
  run: Run;
  figures: ClosingFigures;
  out: CameOut;
  limits: { low: number; high: number } | null;
}) {
  const { theoryMicro, yieldBp, mass, components } = figures;
  const outside = yieldBp !== null && limits !== null && (yieldBp < limits.low || yieldBp > limits.high);
  const over = mass !== null && out.meanMicro !== null && mass.lossMicro < 0;
  return (
    <div className="reconciliation" role="group" aria-label="Reconciliation before closing">
      <Facts
        facts={[
          { label: 'Comes out', value: amountOf(out.quantityMicro, run.unit) },
          ...(theoryMicro === null ? [] : [{ label: 'Theory', value: amountOf(Math.round(theoryMicro), run.unit) }]),
          ...(yieldBp === null
            ? []
            : [
                {
                  label: limits === null ? 'Yield' : `Yield, ${percentOfBp(limits.low)} to ${percentOfBp(limits.high)}`,
                  value: percentOfBp(yieldBp),
                  warn: outside,
                },
              ]),
          ...(out.rejected === 0 ? [] : [{ label: 'Rejected', value: writtenCount(out.rejected), warn: true }]),
          ...(mass === null ? [] : [{ label: 'Loss', value: percentOfBp(mass.lossBp), warn: over }]),
        ]}
      />
      {outside || over ? (
        <p className="urgent">
          {outside ? 'The yield is outside what the recipe allows' : 'The cans would hold more than was charged'}: the run stays open to
          explain until somebody says why.
        </p>
      ) : null}
      {components.length === 0 ? null : (
        <LedgerTable
          caption="Components charged against what the pieces need"
          rows={components}
          rowKey={({ item }) => item}
          columns={[
            {
              head: 'Component',
              cell: ({ name, item }) => (
                <>
                  {name} <code className="quiet">{item}</code>
                </>
              ),
            },
            { head: 'Charged', num: true, cell: ({ chargedMicro, unit }) => amountOf(chargedMicro, unit) },
            { head: 'Needed', num: true, cell: ({ neededMicro, unit }) => amountOf(neededMicro, unit) },
            {
              head: 'Left over',
              num: true,
              cell: ({ chargedMicro, neededMicro, unit }) => <Over micro={chargedMicro - neededMicro} unit={unit} />,
            },
          ]}
        />
      )}
      {mass === null ? null : (
        <p className="quiet">
          Bulk charged {writtenQuantity(mass.chargedMicro, 'kg')}, in the cans {writtenQuantity(Math.round(mass.filledMicro), 'kg')} by{' '}
          {out.meanMicro === null ? 'their nominal content' : 'their mean net weight'}
          {mass.rejectedMicro > 0 ? `, ${writtenQuantity(Math.round(mass.rejectedMicro), 'kg')} of it in rejected ones` : ''}, lost{' '}
          {writtenQuantity(Math.round(mass.lossMicro), 'kg')}.
        </p>
      )}
    </div>
  );
}

function Over({ micro, unit }: { micro: number; unit: string }) {
  if (micro < 0) return <span className="urgent">{amountOf(-micro, unit)} too few</span>;
  return (
    <>
      {micro === 0 ? '–' : amountOf(micro, unit)}
      {micro >= MICRO && unit === 'each' ? ' to put back' : ''}
    </>
  );
}
