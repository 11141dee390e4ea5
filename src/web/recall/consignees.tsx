import { useState } from 'react';
import { writtenCount, writtenDate } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Empty, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import type { View } from '../wire/client.js';
import { AccountForm } from './account-form.js';
import { AnswerForm } from './answer-form.js';
import { CheckForm } from './check-form.js';
import { FillBar } from './fill-bar.js';
import { TellForm } from './notices.js';
import type { Progress } from './recall-page.js';
import { spansText } from './words.js';

type Consignee = View<'ConsigneeStatusView'>;
const STEPS = ['tell', 'answer', 'account', 'check'] as const;
type Step = (typeof STEPS)[number];
const TITLES: Readonly<Record<Step, string>> = {
  tell: 'Tell them',
  answer: 'Their answer',
  account: 'Account for goods',
  check: 'Check that it worked',
};

/** Everyone who was sent affected goods: told, answered, what of it is accounted for; the next step one press away. */
export function Consignees({ progress }: { progress: Progress }) {
  const silent = progress.silent.filter(({ due }) => due);
  return (
    <>
      {silent.length === 0 ? null : (
        <Section title="Silent" note={`${silent.length} to be asked again`}>
          <ul>
            {silent.map(({ customer, name, contact, lastNoticeAt }) => (
              <li key={customer}>
                {name} ({contact}), told {localWritten(lastNoticeAt)}
              </li>
            ))}
          </ul>
        </Section>
      )}
      <Section
        title="Consignees"
        note={`${writtenCount(progress.consignees.length)}; ${progress.notified.notified} told, ${progress.replied.replied} answered`}
        actions={
          <>
            <a className="button" href={`/api/recalls/${encodeURIComponent(progress.recall)}/consignees.csv`} download>
              Consignees as CSV
            </a>
            <a className="button" href={`/api/recalls/${encodeURIComponent(progress.recall)}/status.csv`} download>
              Status as CSV
            </a>
          </>
        }
      >
        {progress.consignees.length === 0 ? (
          <Empty>
            <p>Nothing of this went to a customer.</p>
          </Empty>
        ) : (
          <ol className="consignees">
            {progress.consignees.map((one) => (
              <OneConsignee key={one.customer} one={one} progress={progress} />
            ))}
          </ol>
        )}
      </Section>
    </>
  );
}

function OneConsignee({ one, progress }: { one: Consignee; progress: Progress }) {
  const may = useMay('quality', 'recall-lead') && progress.status === 'open' && !progress.drill;
  const [step, setStep] = useState<Step | null>(null);
  const done = (): void => setStep(null);
  const told = one.notices.at(-1);
  return (
    <li>
      <div className="consignee-head">
        <h3>
          <Refer kind="customer" code={one.customer} /> {one.name}
        </h3>
        <span className="quiet">{one.contact}</span>
      </div>
      <p>
        {told ? `Told ${localWritten(told.at)} by ${told.channel}.` : 'Not told.'}{' '}
        {one.answer
          ? `Answered ${writtenDate(one.answer.answeredOn)}, signed ${one.answer.signedBy}: ${one.answer.stopped ? 'stopped' : 'not stopped'}, ${one.answer.acted ? 'did what was asked' : 'did not do what was asked'}.`
          : 'No answer.'}{' '}
        {one.check
          ? `Checked by ${one.check.method}: ${one.check.reached ? 'reached' : 'not reached'}, ${one.check.followed ? 'followed' : 'not followed'}.`
          : ''}
      </p>
      <ul className="lot-accounts">
        {one.lots.map((lot) => (
          <li key={lot.lot}>
            <Refer kind="lot" code={lot.lot} /> <span className="quiet">{spansText(lot.sent.spans)}</span>
            <FillBar label={`${lot.lot} at ${one.name}`} unit={lot.unit} account={lot} />
          </li>
        ))}
      </ul>
      {may ? (
        <div className="row">
          {STEPS.map((name) => (
            <button key={name} type="button" aria-pressed={step === name} onClick={() => setStep(step === name ? null : name)}>
              {TITLES[name]}
            </button>
          ))}
        </div>
      ) : null}
      {step === null ? null : (
        <div className="sheet step">
          {step === 'tell' ? <TellForm progress={progress} customer={one.customer} onDone={done} /> : null}
          {step === 'answer' ? <AnswerForm recall={progress.recall} consignee={one} onDone={done} /> : null}
          {step === 'account' ? <AccountForm recall={progress.recall} consignee={one} onDone={done} /> : null}
          {step === 'check' ? <CheckForm recall={progress.recall} customer={one.customer} onDone={done} /> : null}
        </div>
      )}
    </li>
  );
}
