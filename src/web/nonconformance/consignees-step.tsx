import { useState } from 'react';
import { writtenCount, writtenPieces } from '../../../shared/written.js';
import { instantOfLocal, localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { TextAreaField, TextField } from '../design/fields.js';
import { Dialog } from '../design/dialog.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Caution } from '../design/page.js';
import { Refer } from '../design/refer.js';
import type { View } from '../wire/client.js';
import type { Report } from './report-parts.js';
import { Step } from './step.js';

type Consignee = View<'ReportConsigneeView'>;
type Asked = { readonly customer: string; readonly what: 'told' | 'answered' };

/** Whom affected goods went to, what each was told and answered. Left out while nothing was shipped. */
export function ConsigneesStep({ report }: { report: Report }) {
  const may = useMay('quality', 'dispatcher', 'recall-lead');
  const [asked, setAsked] = useState<Asked | null>(null);
  const { consignees } = report;
  if (consignees.length === 0) return null;
  const untold = consignees.filter(({ told }) => told.length === 0);
  const pieces = consignees.reduce((sum, one) => sum + one.affectedPieces, 0);
  return (
    <Step
      id="consignees"
      title="Consignees"
      stands={untold.length > 0 ? 'due' : 'done'}
      note={`${writtenCount(consignees.length)} got affected goods, ${writtenPieces(pieces)}; ${untold.length === 0 ? 'all told' : `${writtenCount(untold.length)} not told yet`}`}
    >
      {untold.length > 0 && report.severity !== 'minor' ? (
        <Caution>
          <p>
            Affected goods are out of this plant’s hands. Whether they are recalled is decided by the people responsible, under the law of
            each place; here stands who was told what and when.
          </p>
        </Caution>
      ) : null}
      <LedgerTable
        caption="Consignees of affected goods"
        rows={consignees}
        rowKey={({ customer }) => customer}
        rowClass={({ told }) => (told.length === 0 ? 'affected' : undefined)}
        columns={[
          { head: 'Customer', cell: ({ customer }) => <Refer kind="customer" code={customer} /> },
          { head: 'Affected', num: true, cell: ({ affectedPieces }) => writtenPieces(affectedPieces) },
          {
            head: 'Shipments',
            cell: ({ shipments }) =>
              shipments.map((code) => (
                <span key={code}>
                  <Refer kind="shipment" code={code} />{' '}
                </span>
              )),
          },
          { head: 'Told', cell: (one) => <ToldOf of={one} /> },
          { head: 'Answered', cell: (one) => <AnswersOf of={one} /> },
          ...(may ? [{ head: 'Record', cell: (one: Consignee) => <RecordButtons of={one} onAsk={setAsked} /> }] : []),
        ]}
      />
      {asked === null ? null : <TellDialog report={report} asked={asked} onClose={() => setAsked(null)} />}
    </Step>
  );
}

const ToldOf = ({ of }: { of: Consignee }) =>
  of.told.length === 0 ? (
    <span className="urgent">not yet</span>
  ) : (
    <>
      {of.told.map(({ at, channel, what, by }) => (
        <div key={`${at} ${what}`}>
          {localWritten(at)} by {channel}: {what} <span className="quiet">({by})</span>
        </div>
      ))}
    </>
  );

const AnswersOf = ({ of }: { of: Consignee }) =>
  of.answers.length === 0 ? (
    <>no answer</>
  ) : (
    <>
      {of.answers.map(({ at, answer, by }) => (
        <div key={`${at} ${answer}`}>
          {localWritten(at)}: {answer} <span className="quiet">({by})</span>
        </div>
      ))}
    </>
  );

const RecordButtons = ({ of, onAsk }: { of: Consignee; onAsk: (asked: Asked) => void }) => (
  <span className="nc-judge">
    <button type="button" onClick={() => onAsk({ customer: of.customer, what: 'told' })}>
      Told<span className="hidden-but-read"> {of.customer}</span>
    </button>
    {of.told.length === 0 ? null : (
      <button type="button" onClick={() => onAsk({ customer: of.customer, what: 'answered' })}>
        Answer<span className="hidden-but-read"> of {of.customer}</span>
      </button>
    )}
  </span>
);

function TellDialog({ report, asked, onClose }: { report: Report; asked: Asked; onClose: () => void }) {
  const address = { report: report.report };
  const { customer } = asked;
  if (asked.what === 'told') {
    return (
      <Dialog title={`${customer} was told`} onClose={onClose}>
        <CommandForm
          path="/api/reports/{report}/consignees/told"
          address={address}
          body={(values) => ({
            customer,
            channel: values.text('/channel'),
            what: values.text('/what'),
            toldAt: instantOfLocal(values.text('/toldAt')) || undefined,
          })}
          submit="Record that they were told"
          onDone={onClose}
          onCancel={onClose}
        >
          <div className="grid">
            <TextField name="/channel" label="How" hint="As telephone, e-mail, letter" required />
            <TextField name="/toldAt" label="When" type="datetime-local" hint="Left empty: now" />
          </div>
          <TextAreaField name="/what" label="What they were told" required />
        </CommandForm>
      </Dialog>
    );
  }
  return (
    <Dialog title={`Answer of ${customer}`} onClose={onClose}>
      <CommandForm
        path="/api/reports/{report}/consignees/answers"
        address={address}
        body={(values) => ({
          customer,
          answer: values.text('/answer'),
          answeredAt: instantOfLocal(values.text('/answeredAt')) || undefined,
        })}
        submit="Record the answer"
        onDone={onClose}
        onCancel={onClose}
      >
        <TextAreaField name="/answer" label="What they answered" required />
        <TextField name="/answeredAt" label="When" type="datetime-local" hint="Left empty: now" />
      </CommandForm>
    </Dialog>
  );
}
