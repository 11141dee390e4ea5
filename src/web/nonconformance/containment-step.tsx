import { Link } from 'wouter';
import { CommandForm } from '../design/command-form.js';
import { Caution, Notice } from '../design/page.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Refer } from '../design/refer.js';
import { useMay } from '../app/session.js';
import { CodeField } from '../design/code-field.js';
import { usePeople } from './people.js';
import { partWritten, piecesWritten, amount, totalWritten } from './amounts.js';
import { JudgedParts } from './judged-parts.js';
import { type Entry, type Report, traceAddress } from './report-parts.js';
import { Said, Step, Turn } from './step.js';

/** Everything affected is held, with what was made from it; what else may be affected is judged in or out. */
export function ContainmentStep({ report, entries }: { report: Report; entries: readonly Entry[] }) {
  const due = report.state === 'raised';
  const note = due
    ? `${totalWritten(report.parts)} of ${report.lots.length === 1 ? report.lots[0] : `${report.lots.length} lots`} affected, not held by this report yet`
    : `${totalWritten(report.parts)} affected, on ${report.holds.length === 1 ? '1 hold' : `${report.holds.length} holds`}`;
  return (
    <Step id="containment" title="Containment" stands={due ? 'due' : 'done'} note={note}>
      <Affected report={report} />
      {due ? <ContainForm report={report} /> : <Holds report={report} />}
      {!due && !report.contained && report.state !== 'closed' && report.state !== 'withdrawn' ? (
        <Caution>
          <p>
            <strong>Not everything affected is held by this report.</strong> Place a hold on the rest before it is decided about.
          </p>
        </Caution>
      ) : null}
      <Said entries={entries} kinds={['ReportContained']} />
      <JudgedParts report={report} />
    </Step>
  );
}

const Affected = ({ report }: { report: Report }) => (
  <LedgerTable
    caption={`Affected: ${totalWritten(report.parts)}`}
    rows={report.parts}
    rowKey={({ lot, pieces }) => `${lot} ${pieces}`}
    columns={[
      { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
      { head: 'Item', cell: ({ item }) => <Refer kind="item" code={item} /> },
      { head: 'Pieces', cell: ({ pieces }) => (pieces === null ? 'bulk' : piecesWritten(pieces)) },
      { head: 'How much', num: true, cell: ({ quantity, unit }) => amount(quantity, unit) },
      {
        head: 'Forward',
        cell: (part) => (
          <Link href={traceAddress(part)}>
            Trace it<span className="hidden-but-read">: {part.lot}</span>
          </Link>
        ),
      },
    ]}
  />
);

function Holds({ report }: { report: Report }) {
  if (report.holds.length === 0) return <p className="quiet">No hold of this report is open any more.</p>;
  return (
    <LedgerTable
      caption="Open holds of this report"
      rows={report.holds}
      rowKey={({ hold, lot, pieces }) => `${hold} ${lot} ${pieces}`}
      columns={[
        { head: 'Hold', cell: ({ hold }) => <Refer kind="hold" code={hold} /> },
        { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
        { head: 'On', cell: ({ pieces, quantity }) => (pieces === null ? (quantity ?? 'all of it') : `pieces ${piecesWritten(pieces)}`) },
      ]}
    />
  );
}

function ContainForm({ report }: { report: Report }) {
  const may = useMay('quality');
  const people = usePeople();
  if (!may) return <Turn who="quality" what="contain it: to put holds on everything affected" />;
  return (
    <div className="nc-due-form">
      <Notice>
        <p>
          This holds {report.parts.map(({ lot, ...part }) => `${partWritten(part)} of ${lot}`).join('; ')}, and everything made from it, at
          once: none of it can be used or shipped until the report lets it go.
        </p>
      </Notice>
      <CommandForm
        path="/api/reports/{report}/containment"
        address={{ report: report.report }}
        body={(values) => ({ owner: values.maybe('/owner') })}
        submit="Contain it"
        signs={`that everything ${report.report} affects is stopped, with what was made from it`}
        onDone={() => undefined}
      >
        <CodeField name="/owner" label="Who owns the holds" hint="Left empty: you" choices={people} />
      </CommandForm>
    </div>
  );
}
