import { useState } from 'react';
import { writtenDate } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay, useMe } from '../app/session.js';
import { CodeField } from '../design/code-field.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { ChoiceField, TextAreaField, TextField } from '../design/fields.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Photographs, Thumbs } from '../design/photographs.js';
import type { View } from '../wire/client.js';
import type { StoredFile } from '../wire/upload-file.js';
import { usePeople } from './people.js';
import type { Learning, Report } from './report-parts.js';
import { asTitle } from './words.js';

type Action = View<'ActionView'>;

const KINDS = [
  { value: 'corrective', says: 'Corrective action: on the cause' },
  { value: 'correction', says: 'Correction: of the pieces' },
  { value: 'preventive', says: 'Preventive action: on what has not happened yet' },
];

/** What is done about it, by whom and until when; each done by its owner or quality, with evidence. */
export function Actions({ report, learning, writes }: { report: Report; learning: Learning; writes: boolean }) {
  const [planning, setPlanning] = useState(false);
  const [finishing, setFinishing] = useState<Action | null>(null);
  const me = useMe();
  const isQuality = useMay('quality');
  // What a closed report left open can still be done.
  const mayFinish = (action: Action): boolean =>
    report.state !== 'withdrawn' && action.done === null && (isQuality || action.owner === me.person);
  return (
    <>
      <h3>Actions</h3>
      <LedgerTable
        caption="Actions of the report"
        rows={learning.actions}
        rowKey={({ action }) => `${action}`}
        rowClass={({ overdue }) => (overdue ? 'affected' : undefined)}
        columns={[
          { head: 'Action', num: true, cell: ({ action }) => action },
          { head: 'Kind', cell: ({ kind }) => asTitle(kind) },
          { head: 'What', cell: ({ what }) => what },
          { head: 'Owner', cell: ({ owner }) => <code>{owner}</code> },
          { head: 'Due', cell: (action) => <Due of={action} /> },
          { head: 'Done', cell: (action) => <DoneOf of={action} may={mayFinish(action)} onFinish={() => setFinishing(action)} /> },
        ]}
        empty={<p className="quiet">No action is planned.</p>}
      />
      {writes && report.review !== null ? (
        <div className="row no-print">
          <button type="button" onClick={() => setPlanning(true)}>
            Plan an action
          </button>
        </div>
      ) : null}
      {planning ? <PlanDialog report={report} onClose={() => setPlanning(false)} /> : null}
      {finishing === null ? null : <FinishDialog report={report} action={finishing} onClose={() => setFinishing(null)} />}
    </>
  );
}

const Due = ({ of }: { of: Action }) => (
  <>
    {writtenDate(of.dueOn)}
    {of.overdue ? <div className="urgent">overdue</div> : null}
  </>
);

function DoneOf({ of, may, onFinish }: { of: Action; may: boolean; onFinish: () => void }) {
  if (of.done !== null) {
    return (
      <>
        {of.done.evidence}
        <div className="quiet">
          {localWritten(of.done.at)}, <code>{of.done.by}</code>
        </div>
        <Thumbs files={of.done.files} of={`action ${of.action}`} />
      </>
    );
  }
  return may ? (
    <button type="button" onClick={onFinish}>
      Done<span className="hidden-but-read">, action {of.action}</span>
    </button>
  ) : (
    <>not yet</>
  );
}

function PlanDialog({ report, onClose }: { report: Report; onClose: () => void }) {
  const people = usePeople();
  return (
    <Dialog title="Plan an action" onClose={onClose}>
      <CommandForm
        path="/api/reports/{report}/actions"
        address={{ report: report.report }}
        body={(values) => ({
          kind: values.choice('/kind'),
          what: values.text('/what'),
          owner: values.text('/owner'),
          dueOn: values.text('/dueOn'),
        })}
        submit="Plan it"
        onDone={onClose}
        onCancel={onClose}
      >
        <ChoiceField name="/kind" label="Kind" choices={KINDS} hint="A corrective action waits for the cause" />
        <TextAreaField name="/what" label="What is to be done" rows={2} required />
        <div className="grid">
          <CodeField name="/owner" label="Owner" hint="Who answers for it; somebody else checks it" choices={people} required />
          <TextField name="/dueOn" label="Due on" type="date" required />
        </div>
      </CommandForm>
    </Dialog>
  );
}

function FinishDialog({ report, action, onClose }: { report: Report; action: Action; onClose: () => void }) {
  const [files, setFiles] = useState<readonly StoredFile[]>([]);
  return (
    <Dialog title={`Action ${action.action} is done`} onClose={onClose}>
      <p>{action.what}</p>
      <CommandForm
        path="/api/reports/{report}/actions/{action}/done"
        address={{ report: report.report, action: action.action }}
        body={(values) => ({
          evidence: values.text('/evidence'),
          files: files.length === 0 ? undefined : files.map(({ sha256 }) => sha256),
        })}
        submit="Record it as done"
        onDone={onClose}
        onCancel={onClose}
      >
        <TextAreaField name="/evidence" label="What shows that it was done" rows={2} required />
        <Photographs files={files} onFiles={setFiles} />
      </CommandForm>
    </Dialog>
  );
}
