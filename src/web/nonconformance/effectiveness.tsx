import { useState } from 'react';
import { writtenDate } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { ChoiceField, TextAreaField, TextField } from '../design/fields.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Notice } from '../design/page.js';
import { Photographs, Thumbs } from '../design/photographs.js';
import { Refer } from '../design/refer.js';
import type { View } from '../wire/client.js';
import type { StoredFile } from '../wire/upload-file.js';
import type { Learning, Report } from './report-parts.js';
import { isOpen } from './words.js';

type Planned = View<'CorrectiveCheckView'>;

/** Whether the corrective action works, by a criterion that was set beforehand; the last one set counts. */
export function Effectiveness({ report, learning }: { report: Report; learning: Learning }) {
  const may = useMay('quality') && report.review !== null && isOpen(report.state);
  const [asking, setAsking] = useState<'plan' | 'check' | null>(null);
  const last = learning.effectiveness.at(-1);
  const checkable = last !== undefined && last.checked === null;
  return (
    <>
      <h3>Effectiveness</h3>
      <LedgerTable
        caption="Checks of effectiveness"
        rows={learning.effectiveness}
        rowKey={({ seq }) => `${seq}`}
        rowClass={({ overdue }) => (overdue ? 'affected' : undefined)}
        columns={[
          { head: 'Criterion', cell: ({ criterion }) => criterion },
          { head: 'Check on', cell: (one) => <On of={one} /> },
          { head: 'Found', cell: (one) => <Found of={one} /> },
        ]}
        empty={<p className="quiet">No check is planned.</p>}
      />
      {may ? (
        <div className="row no-print">
          {checkable ? (
            <button type="button" onClick={() => setAsking('check')}>
              Check whether it works
            </button>
          ) : null}
          <button type="button" onClick={() => setAsking('plan')}>
            Plan a check of effectiveness
          </button>
        </div>
      ) : null}
      {asking === 'plan' ? <PlanDialog report={report} onClose={() => setAsking(null)} /> : null}
      {asking === 'check' && last !== undefined ? <CheckDialog report={report} last={last} onClose={() => setAsking(null)} /> : null}
    </>
  );
}

const On = ({ of }: { of: Planned }) => (
  <>
    {writtenDate(of.checkOn)}
    {of.overdue ? <div className="urgent">overdue</div> : null}
  </>
);

function Found({ of }: { of: Planned }) {
  const { checked } = of;
  if (checked === null) return <>{of.replaced ? 'another criterion took its place' : 'not checked yet'}</>;
  return (
    <>
      <strong>{checked.effective ? 'It works.' : 'It does not work.'}</strong> {checked.evidence} Harm: {checked.harm}
      <div className="quiet">
        Signed by <code>{checked.by}</code>, {localWritten(checked.at)}, entry <Refer kind="entry" code={`${checked.seq}`} />: “
        {checked.meaning}”
      </div>
      <Thumbs files={checked.files} of="the check" />
    </>
  );
}

function PlanDialog({ report, onClose }: { report: Report; onClose: () => void }) {
  return (
    <Dialog title="Plan a check of effectiveness" onClose={onClose}>
      <CommandForm
        path="/api/reports/{report}/effectiveness"
        address={{ report: report.report }}
        body={(values) => ({ criterion: values.text('/criterion'), checkOn: values.text('/checkOn') })}
        submit="Plan the check"
        onDone={onClose}
        onCancel={onClose}
      >
        <TextAreaField name="/criterion" label="What would show that the cause is gone" rows={2} required />
        <TextField name="/checkOn" label="Check on" type="date" hint="From this day on it can be found to work" required />
      </CommandForm>
    </Dialog>
  );
}

function CheckDialog({ report, last, onClose }: { report: Report; last: Planned; onClose: () => void }) {
  const [works, setWorks] = useState(true);
  const [files, setFiles] = useState<readonly StoredFile[]>([]);
  return (
    <Dialog title="Does the corrective action work?" onClose={onClose}>
      <p>
        By the criterion: <strong>{last.criterion}</strong>
      </p>
      {works && report.state === 'verified' ? (
        <Notice>
          <p>If nothing else stands against it, this closes {report.report} and lifts its holds.</p>
        </Notice>
      ) : null}
      <CommandForm
        path="/api/reports/{report}/effectiveness/check"
        address={{ report: report.report }}
        body={(values) => ({
          effective: works,
          harm: values.text('/harm'),
          evidence: values.text('/evidence'),
          files: files.length === 0 ? undefined : files.map(({ sha256 }) => sha256),
        })}
        submit="Sign the check"
        signs={
          works ? `that the corrective action of ${report.report} works` : `that the corrective action of ${report.report} does not work`
        }
        onDone={onClose}
        onCancel={onClose}
      >
        <ChoiceField
          name="/effective"
          label="Found"
          choices={[
            { value: 'yes', says: 'It works' },
            { value: 'no', says: 'It does not work' },
          ]}
          value={works ? 'yes' : 'no'}
          onChange={(event) => setWorks(event.target.value === 'yes')}
        />
        <TextAreaField name="/evidence" label="What was looked at, and what it showed" rows={2} required />
        <TextAreaField name="/harm" label="Did the action do any harm of its own?" hint="Say so also where it did none" rows={2} required />
        <Photographs files={files} onFiles={setFiles} />
      </CommandForm>
    </Dialog>
  );
}
