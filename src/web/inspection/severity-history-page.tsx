import { useState } from 'react';
import { Link, useSearch } from 'wouter';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Caution, Empty, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Stamp } from '../design/stamp.js';
import { SeveritySteps } from '../pictures/severity-steps.js';
import { server, type View } from '../wire/client.js';
import { SeverityDecision } from './severity-decision.js';
import { Recent, SeverityWord } from './severity-word.js';

type State = View<'SwitchingStateView'>;
type Step = View<'SwitchingStepView'>;

/** How strict an item from a supplier is inspected, why, what is missing for reduced inspection, and every step that led here. */
export function SeverityHistoryPage({ item }: { item: string }) {
  const supplier = new URLSearchParams(useSearch()).get('supplier');
  const ask = { item, ...(supplier === null ? {} : { supplier }) };
  const states = server.useQuery('get', '/api/switching', { params: { query: ask } });
  const steps = server.useQuery('get', '/api/switching/history', { params: { query: ask } });
  const [deciding, setDeciding] = useState(false);
  const mayDecide = useMay('quality');
  const ours = <Row extends { supplier: string | null }>(rows: readonly Row[]): Row[] => rows.filter((row) => row.supplier === supplier);
  return (
    <Page
      title={<code>{item}</code>}
      name={`Severity of ${item}`}
      crumb={<Link href="/inspection/severity">Severity</Link>}
      sub={supplier === null ? 'Made here' : <>From {<Refer kind="supplier" code={supplier} />}</>}
      actions={
        mayDecide ? (
          <button type="button" onClick={() => setDeciding(true)}>
            State or decide something
          </button>
        ) : undefined
      }
    >
      {deciding ? <SeverityDecision item={item} supplier={supplier} onClose={() => setDeciding(false)} /> : null}
      <Answered query={states} what="the severity">
        {(all) => (
          <>
            {ours(all).length === 0 ? (
              <Empty>
                <p>No verdict has counted yet, and nothing has been decided: the first lot is inspected under normal inspection (9.1).</p>
              </Empty>
            ) : null}
            {ours(all).map((state) => (
              <Standing key={`${state.class} ${state.plan}`} state={state} />
            ))}
          </>
        )}
      </Answered>
      <Answered query={steps} what="the history">
        {(all) => <History steps={ours(all)} />}
      </Answered>
    </Page>
  );
}

function Standing({ state }: { state: State }) {
  const { severity, plan, because, recent, score, reduced, inForce, acceptedInARow, notAccepted, since } = state;
  return (
    <Section title={`${state.class}: next lot ${severity}`} note={`${plan}${inForce ? '' : ', an earlier plan: it goes on no further'}`}>
      {severity === 'discontinued' ? (
        <Caution>
          <p>
            Acceptance inspection is discontinued (9.4): nothing of it is begun until quality decides that what the supplier did is likely
            to work.
          </p>
        </Caution>
      ) : null}
      <div className="columns">
        <dl className="terms">
          <dt>Severity</dt>
          <dd>
            <SeverityWord severity={severity} />
          </dd>
          <dt>Why</dt>
          <dd>{because.length === 0 ? 'as it starts (9.1)' : because.map(({ words, rule }) => `${words} (${rule})`).join('; ')}</dd>
          {since === null ? null : (
            <>
              <dt>Since entry</dt>
              <dd>
                <Refer kind="entry" code={`${since}`} />
              </dd>
            </>
          )}
          {severity === 'normal' ? (
            <>
              <dt>Last lots</dt>
              <dd>
                <Recent recent={recent} /> <span className="quiet">two of five not accepted tighten it (9.3.1)</span>
              </dd>
              <dt>Score</dt>
              <dd>
                <meter min={0} max={30} value={Math.min(30, score)} aria-label="Switching score" /> {score}; reduced inspection asks for 30
              </dd>
            </>
          ) : null}
          {severity === 'tightened' ? (
            <>
              <dt>Accepted in a row</dt>
              <dd>{acceptedInARow} of the 5 that bring normal inspection back (9.3.2)</dd>
              <dt>Not accepted</dt>
              <dd>{notAccepted} of the 5 that end acceptance inspection (9.4)</dd>
            </>
          ) : null}
        </dl>
        <div>
          <h3>Toward reduced inspection</h3>
          <ul className="conditions">
            {reduced.conditions.map(({ rule, words, met }) => (
              <li key={rule} className={met ? 'met' : 'open'}>
                <span className="hidden-but-read">{met ? 'holds: ' : 'does not hold yet: '}</span>
                {words} ({rule})
              </li>
            ))}
          </ul>
        </div>
      </div>
    </Section>
  );
}

function History({ steps }: { steps: readonly Step[] }) {
  const histories = [...new Set(steps.map(({ class: of, plan }) => `${of}: ${plan}`))];
  return (
    <Section title="History" note="every step with its reason, the latest first">
      {histories.map((name) => {
        const own = steps.filter(({ class: of, plan }) => `${of}: ${plan}` === name);
        return <SeveritySteps key={name} name={name} steps={own} />;
      })}
      <LedgerTable
        caption="Steps of switching, the latest first"
        rows={steps.toReversed()}
        rowKey={(step) => `${step.seq} ${step.class} ${step.plan}`}
        rowClass={({ before, after }) => (before === after ? undefined : 'chosen')}
        columns={[
          { head: 'Entry', num: true, cell: ({ seq }) => <Refer kind="entry" code={`${seq}`} /> },
          { head: 'When', cell: ({ at }) => localWritten(at) },
          { head: 'Class', cell: (step) => step.class },
          { head: 'What happened', cell: (step) => <Happened step={step} /> },
          {
            head: 'Severity',
            cell: ({ before, after }) =>
              before === after ? (
                after
              ) : (
                <strong
                  className={after === 'tightened' || after === 'discontinued' ? 'urgent' : undefined}
                >{`${before} becomes ${after}`}</strong>
              ),
          },
          { head: 'Score', num: true, cell: ({ score }) => score },
          {
            head: 'Why',
            cell: ({ because }) => <span className="wide">{because.map(({ words, rule }) => `${words} (${rule})`).join('; ')}</span>,
          },
        ]}
        empty={
          <Empty>
            <p>
              Nothing has counted yet. Each verdict on a lot inspected for the first time becomes a step here, and so does each decision.
            </p>
          </Empty>
        }
      />
    </Section>
  );
}

function Happened({ step }: { step: Step }) {
  const { inspection, lot, verdict, decision, reason, by } = step;
  if (decision !== null) {
    return (
      <>
        <code>{by}</code> decided: {decision}
        {reason === null ? '' : `, because ${reason}`}
      </>
    );
  }
  return (
    <span className="row">
      {inspection === null ? null : <Refer kind="inspection" code={inspection} />}
      {lot === null ? null : <Refer kind="lot" code={lot} />}
      {verdict === null ? null : <Stamp word={verdict === 'accepted' ? 'accepted' : 'not accepted'} small />}
    </span>
  );
}
