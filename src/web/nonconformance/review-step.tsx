import { useState } from 'react';
import { useMay } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, TextAreaField } from '../design/fields.js';
import { Caution } from '../design/page.js';
import type { Disposed, Entry, Report } from './report-parts.js';
import { Said, Step, type StepStands, Turn } from './step.js';
import { asTitle, SEVERITIES } from './words.js';

const YES_NO = [
  { value: 'yes', says: 'Yes' },
  { value: 'no', says: 'No' },
];

/** The signed review: how grave it is, whether the cause is investigated, whether the party responsible is told. */
export function ReviewStep({ report, entries, disposed }: { report: Report; entries: readonly Entry[]; disposed: Disposed }) {
  const may = useMay('quality');
  const [again, setAgain] = useState(false);
  const stands: StepStands = report.state === 'contained' ? 'due' : report.review === null ? 'later' : 'done';
  const canAgain = report.review !== null && report.next.some(({ to }) => to === 'reviewed') && may;
  return (
    <Step id="review" title="Review" stands={stands} note={noteOf(report)}>
      <Reviewed report={report} />
      <Said entries={entries} kinds={['ReportReviewed']} />
      {stands === 'due' && !may ? <Turn who="quality" what="review it" /> : null}
      {stands === 'later' ? <p className="quiet">A report is reviewed once it is contained.</p> : null}
      {(stands === 'due' && may) || again ? (
        <ReviewForm report={report} disposed={disposed} again={again} onDone={() => setAgain(false)} />
      ) : null}
      {canAgain && !again ? (
        <div className="row no-print">
          <button type="button" onClick={() => setAgain(true)}>
            Review again
          </button>
        </div>
      ) : null}
    </Step>
  );
}

const noteOf = ({ review }: Report): string | undefined =>
  review === null
    ? undefined
    : `cause ${review.investigate ? 'is investigated' : 'is not investigated'}, party responsible ${review.inform ? 'is told' : 'is not told'}`;

function Reviewed({ report: { review } }: { report: Report }) {
  if (review === null) return null;
  return (
    <dl className="nc-told">
      <dt>Cause investigated</dt>
      <dd>
        {review.investigate ? 'yes' : 'no'}: {review.investigateReason}
      </dd>
      <dt>Party responsible told</dt>
      <dd>
        {review.inform ? 'yes' : 'no'}: {review.informReason}
      </dd>
      <dt>Reviewed by</dt>
      <dd>
        <code>{review.by}</code>
      </dd>
    </dl>
  );
}

function ReviewForm({ report, disposed, again, onDone }: { report: Report; disposed: Disposed; again: boolean; onDone: () => void }) {
  const signed = disposed.dispositions.filter(
    ({ withdrawn, signatures }) => withdrawn === null && signatures.some(({ broken }) => !broken),
  );
  return (
    <div className="nc-due-form">
      {again && signed.length > 0 ? (
        <Caution>
          <p>
            <strong>
              Another severity breaks the signatures on {signed.length === 1 ? 'one disposition' : `${signed.length} dispositions`}.
            </strong>{' '}
            They were given on what stood then; they show as broken and must be given anew.
          </p>
        </Caution>
      ) : null}
      <CommandForm
        path="/api/reports/{report}/review"
        address={{ report: report.report }}
        body={(values) => ({
          severity: values.choice('/severity'),
          investigate: { needed: values.text('/investigate/needed') === 'yes', reason: values.text('/investigate/reason') },
          inform: { needed: values.text('/inform/needed') === 'yes', reason: values.text('/inform/reason') },
        })}
        submit="Sign the review"
        signs={`that you have reviewed ${report.report} and answer for what is to follow from it`}
        onDone={onDone}
        onCancel={again ? onDone : undefined}
      >
        <ChoiceField
          name="/severity"
          label="Severity"
          choices={SEVERITIES.map((value) => ({ value, says: asTitle(value) }))}
          defaultValue={report.severity}
          hint={`Raised as ${report.severity}`}
        />
        <div className="nc-answered">
          <ChoiceField
            name="/investigate/needed"
            label="Is the cause investigated?"
            choices={YES_NO}
            hint="With yes, the report closes only when the cause was dealt with and found gone"
          />
          <TextAreaField name="/investigate/reason" label="Why, or why not" rows={2} required />
        </div>
        <div className="nc-answered">
          <ChoiceField
            name="/inform/needed"
            label="Is the party responsible told?"
            choices={YES_NO}
            hint="The supplier, or whoever it came from"
          />
          <TextAreaField name="/inform/reason" label="Why they are told, or not" rows={2} required />
        </div>
      </CommandForm>
    </div>
  );
}
