import { useState } from 'react';
import { useMay } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { Caution, Notice } from '../design/page.js';
import { totalWritten } from './amounts.js';
import type { Entry, Learning, Report } from './report-parts.js';
import { Said, Step, type StepStands, Turn } from './step.js';
import { isOpen } from './words.js';

/** The end of a report: closing when nothing is left to do, withdrawing one that was none, opening a closed one again. */
export function ClosingStep({ report, learning, entries }: { report: Report; learning: Learning; entries: readonly Entry[] }) {
  const may = useMay('quality');
  const stands: StepStands = report.state === 'verified' ? 'due' : isOpen(report.state) ? 'later' : 'done';
  const [asking, setAsking] = useState<'withdraw' | 'reopen' | null>(null);
  const canWithdraw = may && report.next.some(({ to }) => to === 'withdrawn');
  return (
    <Step id="closing" title={report.state === 'withdrawn' ? 'Withdrawn' : 'Closing'} stands={stands} note={noteOf(report, learning)}>
      <Said entries={entries} kinds={['ReportClosed', 'ReportWithdrawn', 'ReportReopened']} />
      {stands === 'due' ? may ? <CloseForm report={report} learning={learning} /> : <Turn who="quality" what="close it" /> : null}
      {stands === 'later' ? (
        <p className="quiet">It closes when everything is disposed of, carried out, verified, and learned where the review asks for it.</p>
      ) : null}
      <div className="row no-print">
        {canWithdraw ? (
          <button type="button" className="danger" onClick={() => setAsking('withdraw')}>
            Withdraw this report
          </button>
        ) : null}
        {may && report.state === 'closed' ? (
          <button type="button" onClick={() => setAsking('reopen')}>
            Open this report again
          </button>
        ) : null}
      </div>
      {asking === null ? null : <EndDialog report={report} what={asking} onClose={() => setAsking(null)} />}
    </Step>
  );
}

function noteOf(report: Report, learning: Learning): string | undefined {
  if (report.state !== 'verified') return undefined;
  const lacks = learning.lacking.length;
  return lacks === 0 ? 'nothing is left to do' : `${lacks} ${lacks === 1 ? 'thing is' : 'things are'} still to be learned`;
}

function CloseForm({ report, learning }: { report: Report; learning: Learning }) {
  return (
    <div className="nc-due-form">
      {learning.lacking.length > 0 ? (
        <Caution>
          <p>It cannot close yet:</p>
          <ul>
            {learning.lacking.map(({ code, detail }) => (
              <li key={`${code} ${detail}`}>{detail}</li>
            ))}
          </ul>
        </Caution>
      ) : (
        <Notice>
          <p>
            {report.holds.length === 0
              ? 'No hold of it is open any more.'
              : `Closing lifts ${report.holds.length === 1 ? 'its hold' : `its ${report.holds.length} holds`}, but for what is under a concession.`}
          </p>
        </Notice>
      )}
      <CommandForm
        path="/api/reports/{report}/closing"
        address={{ report: report.report }}
        body={() => ({})}
        submit="Close the report"
        signs={`that nothing of ${report.report} is left to do and that it is closed`}
        onDone={() => undefined}
      />
    </div>
  );
}

function EndDialog({ report, what, onClose }: { report: Report; what: 'withdraw' | 'reopen'; onClose: () => void }) {
  const address = { report: report.report };
  if (what === 'reopen') {
    return (
      <Dialog title={`Open ${report.report} again`} onClose={onClose}>
        <p>It stands as verified again, with its pieces disposed of as they were, until it is closed anew.</p>
        <CommandForm
          path="/api/reports/{report}/reopening"
          address={address}
          body={() => ({})}
          submit="Open it again"
          signs={`that ${report.report} is opened again`}
          onDone={onClose}
          onCancel={onClose}
        />
      </Dialog>
    );
  }
  return (
    <Dialog title={`Withdraw ${report.report}`} onClose={onClose}>
      <Caution>
        <p>
          This says that there was no nonconformity. It lifts the report’s {report.holds.length}{' '}
          {report.holds.length === 1 ? 'hold' : 'holds'} on {totalWritten(report.parts)}, and a withdrawn report is not taken up again.
        </p>
      </Caution>
      <CommandForm
        path="/api/reports/{report}/withdrawal"
        address={address}
        body={() => ({})}
        submit="Withdraw it"
        danger
        signs={`that ${report.report} is withdrawn, because there was no nonconformity`}
        onDone={onClose}
        onCancel={onClose}
      />
    </Dialog>
  );
}
