import { memo, useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { TraceAnswer } from '../../../shared/api/trace.js';
import { writtenCount } from '../../../shared/written.js';
import { useMay } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, TextAreaField, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Caution, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Stamp } from '../design/stamp.js';
import { server } from '../wire/client.js';
import { type TraceFigures, writtenWhole } from './figures.js';
import { addressOf, originWords, type Question, recallOrigin } from './question.js';

/** What has been found becomes the scope of a recall, or of a drill, frozen at the entry that is shown. */
export const OpenRecall = memo(function OpenRecall({
  question,
  answer,
  figures,
}: {
  question: Question;
  answer: TraceAnswer;
  figures: TraceFigures;
}) {
  const may = useMay('quality', 'recall-lead');
  const [opening, setOpening] = useState(false);
  return (
    <Section title="Recall" id="recall">
      <RecallsOfThis answer={answer} />
      {question.direction === 'backward' ? (
        <p className="no-print">
          A recall follows material forward. Choose the lot that is at fault and{' '}
          <Link href={addressOf({ ...question, direction: 'forward', chosen: null })}>trace it forward</Link>.
        </p>
      ) : (
        <div className="no-print">
          <Caution>
            <p>
              A trace shows what the record says. Whether goods are recalled, who is told, how fast and by whom is decided by the people
              your company has authorised for it, under the law of every country the goods went to. Opening a recall here tells nobody
              outside.
            </p>
          </Caution>
          {!may ? (
            <p className="quiet">Quality or the recall lead opens a recall from this.</p>
          ) : opening ? (
            <RecallForm question={question} answer={answer} scope={figures} onCancel={() => setOpening(false)} />
          ) : (
            <button type="button" className="danger" onClick={() => setOpening(true)}>
              Open a recall from this
            </button>
          )}
        </div>
      )}
    </Section>
  );
});

/** Recalls whose latest scope starts from one of the same lots. */
function RecallsOfThis({ answer }: { answer: TraceAnswer }) {
  const { data } = server.useQuery('get', '/api/recalls', {}, { staleTime: 30_000 });
  const origins = new Set(answer.origin.map(({ lot }) => lot));
  const same = (data ?? []).filter(({ scopes }) => scopes.at(-1)?.origin.some(({ lot }) => origins.has(lot)));
  if (same.length === 0) return null;
  return (
    <ul className="trace-plain-list">
      {same.map(({ recall, title, drill, status }) => (
        <li key={recall}>
          <Refer kind="recall" code={recall} /> {title}, {status} {drill ? <Stamp word="DRILL" small /> : null}{' '}
          <a className="no-print" href={`/api/recalls/${encodeURIComponent(recall)}/report.pdf`}>
            Its report as PDF
          </a>
        </li>
      ))}
    </ul>
  );
}

const TYPES = [
  { value: 'recall', says: 'Recall: goods have left the plant’s control' },
  { value: 'stock-recovery', says: 'Stock recovery: nothing has left the plant’s control' },
];

function RecallForm({
  question,
  answer,
  scope,
  onCancel,
}: {
  question: Question;
  answer: TraceAnswer;
  scope: TraceFigures;
  onCancel: () => void;
}) {
  const [, go] = useLocation();
  const [practice, setPractice] = useState<string>('');
  const { consignees } = answer.totals;
  const { seq } = answer.asKnownAt;
  const what = practice === 'true' ? 'drill' : 'recall';
  return (
    <CommandForm
      path="/api/recalls"
      danger
      submit={`Open ${what} of ${writtenWhole(scope)}, ${writtenCount(consignees)} ${consignees === 1 ? 'consignee' : 'consignees'}`}
      body={(values: FormValues) => ({
        origin: recallOrigin(question.origin, answer.origin),
        scope: question.shown,
        asKnownAt: seq,
        title: values.text('/title'),
        type: values.choice<'recall' | 'stock-recovery'>('/type'),
        drill: values.text('/drill') === 'true',
        reason: values.text('/reason'),
        what: values.maybe('/what'),
        hazard: values.maybe('/hazard'),
        instruction: values.maybe('/instruction'),
      })}
      onDone={({ recall }) => go(`/recall/${encodeURIComponent(recall)}`)}
      onCancel={onCancel}
    >
      <p>
        This opens a {what} of <strong>{writtenWhole(scope)}</strong> in <strong>{writtenCount(scope.lots)}</strong>{' '}
        {scope.lots === 1 ? 'lot' : 'lots'}, the origin included, at <strong>{writtenCount(consignees)}</strong>{' '}
        {consignees === 1 ? 'consignee' : 'consignees'}: {originWords(question.origin)}, in the {question.shown} scope, frozen as known at
        entry {writtenCount(seq)}. A later version can change the scope; this one stays in the record.
      </p>
      <div className="grid">
        <ChoiceField
          name="/drill"
          label="Is this practice?"
          required
          none="Choose"
          choices={[
            { value: 'false', says: 'No, it is real' },
            { value: 'true', says: 'Yes, a drill' },
          ]}
          value={practice}
          onChange={(event) => setPractice(event.target.value)}
          hint="A drill is marked on every page"
        />
        <ChoiceField name="/type" label="Type" required choices={TYPES} />
      </div>
      <TextField name="/title" label="Title" required maxLength={200} hint="By which people will know it" />
      <TextAreaField name="/reason" label="Why it is called back, how that was found, and why only these lots" required />
      <TextAreaField name="/what" label="What is wrong with the product" hint="Left empty: the title" />
      <TextAreaField name="/hazard" label="Who may come to harm and how, as far as it is known" />
      <TextAreaField name="/instruction" label="What holders are asked to do" />
    </CommandForm>
  );
}
