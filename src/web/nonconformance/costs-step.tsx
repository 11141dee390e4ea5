import { useState } from 'react';
import type { Reason } from '../../../shared/refusal.js';
import { writtenMoney } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { ChoiceField, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { LedgerTable } from '../design/ledger-table.js';
import { minorOf } from './money.js';
import type { Disposed, Learning, Report } from './report-parts.js';
import { Step } from './step.js';
import { asTitle, kindWords } from './words.js';

const COST_KINDS = [
  { value: 'material', says: 'Material' },
  { value: 'labour', says: 'Labour' },
  { value: 'other', says: 'Other' },
];

/** What it cost, by what it is of. Costs may come in after the closing. */
export function CostsStep({ report, learning, disposed }: { report: Report; learning: Learning; disposed: Disposed }) {
  const may = useMay('quality', 'inspector', 'administrator');
  const [adding, setAdding] = useState(false);
  const { costs, currency } = learning;
  const money = (minor: number): string => `${writtenMoney(minor, currency)}\u00a0${currency}`;
  const of = (disposition: number | null): string => {
    const one = disposed.dispositions.find((each) => each.disposition === disposition);
    return one === undefined ? 'the report' : `${one.disposition}. ${kindWords(one.kind).says}`;
  };
  return (
    <Step
      id="costs"
      title="Costs"
      stands="beside"
      note={costs.entries.length === 0 ? 'none recorded' : `${money(costs.totalMinor)} in all`}
    >
      <LedgerTable
        caption={`Costs, ${money(costs.totalMinor)} in all`}
        rows={costs.entries}
        rowKey={({ seq }) => `${seq}`}
        columns={[
          { head: 'Kind', cell: ({ kind }) => asTitle(kind) },
          { head: 'Of', cell: ({ disposition }) => of(disposition) },
          { head: 'Note', cell: ({ note }) => note ?? '' },
          { head: 'By', cell: ({ by }) => <code>{by}</code> },
          { head: 'When', cell: ({ at }) => localWritten(at) },
          { head: `Amount (${currency})`, num: true, cell: ({ minor }) => writtenMoney(minor, currency) },
        ]}
        empty={<p className="quiet">No cost is recorded.</p>}
      />
      {costs.entries.length === 0 ? null : (
        <p>
          {costs.byKind.map(({ kind, minor }) => `${asTitle(kind)} ${money(minor)}`).join(' · ')} ·{' '}
          <strong>{money(costs.totalMinor)} in all</strong>
        </p>
      )}
      {may ? (
        <div className="row no-print">
          <button type="button" onClick={() => setAdding(true)}>
            Record a cost
          </button>
        </div>
      ) : null}
      {adding ? <CostDialog report={report} learning={learning} disposed={disposed} onClose={() => setAdding(false)} /> : null}
    </Step>
  );
}

interface DialogProps {
  readonly report: Report;
  readonly learning: Learning;
  readonly disposed: Disposed;
  readonly onClose: () => void;
}

function CostDialog({ report, learning: { currency, minorDigits }, disposed, onClose }: DialogProps) {
  const check = (values: FormValues): Reason[] => {
    if (values.text('/minor') === '') return []; // said already
    const minor = minorOf(values.text('/minor'), minorDigits);
    if (minor === null)
      return [{ code: 'not-an-amount', detail: `Amount: a number of ${currency} with at most ${minorDigits} decimals`, pointer: '/minor' }];
    if (minor < 0 && values.text('/note') === '')
      return [{ code: 'note-missing', detail: 'Note: say what of a cost came back', pointer: '/note' }];
    return [];
  };
  return (
    <Dialog title="Record a cost" onClose={onClose}>
      <CommandForm
        path="/api/reports/{report}/costs"
        address={{ report: report.report }}
        body={(values) => ({
          kind: values.choice('/kind'),
          minor: minorOf(values.text('/minor'), minorDigits) ?? 0,
          note: values.maybe('/note'),
          disposition: values.whole('/disposition'),
        })}
        check={check}
        submit="Record it"
        onDone={onClose}
        onCancel={onClose}
      >
        <div className="grid">
          <ChoiceField name="/kind" label="Kind" choices={COST_KINDS} />
          <TextField name="/minor" label={`Amount (${currency})`} hint="Below zero: what came back" inputMode="decimal" required />
          <ChoiceField
            name="/disposition"
            label="Of"
            none="The report as a whole"
            choices={disposed.dispositions.map(({ disposition, kind }) => ({
              value: `${disposition}`,
              says: `${disposition}. ${kindWords(kind).says}`,
            }))}
          />
        </div>
        <TextField name="/note" label="Note" />
      </CommandForm>
    </Dialog>
  );
}
