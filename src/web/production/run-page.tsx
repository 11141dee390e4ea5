import { Link } from 'wouter';
import { formatQuantity, parseQuantity } from '../../../shared/quantity.js';
import { localWritten, msOf } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { Entries } from '../design/entries.js';
import { Hazard } from '../design/hazard.js';
import { type Fact, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Stamp } from '../design/stamp.js';
import { server } from '../wire/client.js';
import { ChargePanel } from './charge-panel.js';
import { ChargesTable } from './charges-table.js';
import { ClosedRun } from './closed-run.js';
import { Explain } from './explain.js';
import { HeelPanel } from './heel-panel.js';
import { RecordedLinks } from './links-page.js';
import { MixingTimer } from './mixing-timer.js';
import { Replacements } from './replacements.js';
import { amount, makesPieces, type Run } from './run.js';
import { RunRibbon } from './run-ribbon.js';
import { RunStory } from './run-story.js';
import { Steps } from './steps.js';
import { elapsedWords } from './time-words.js';
import { TransferRun } from './transfer-run.js';
import { useItemOf } from './use-item.js';
import { usePlantClock } from './use-plant-clock.js';
import { nextWant } from './wants.js';

const MINUTE = 60_000;

/** One run: what to do next while it runs, what came of it once it is closed. */
export function RunPage({ code }: { code: string }) {
  const query = server.useQuery('get', '/api/runs/{run}', { params: { path: { run: code } } });
  const error: unknown = query.error;
  const unknown = typeof error === 'object' && error !== null && 'status' in error && error.status === 404;
  if (unknown && query.data === undefined) return <RecordedLinks code={code} hasRun={false} />;
  return (
    <Answered query={query} what={`run ${code}`}>
      {(run) => <RunRecord run={run} />}
    </Answered>
  );
}

function RunRecord({ run }: { run: Run }) {
  const open = run.state === 'open';
  const mayWork = useMay('operator', 'administrator');
  const mayCorrect = useMay('operator', 'quality', 'administrator');
  const tracking = useItemOf(run.item)?.tracking;
  const wants = run.steps.length + run.components.length > 0;
  return (
    <Page
      crumb={
        <>
          <Link href="/production">Production</Link> · {run.kind}
        </>
      }
      title={run.run}
      stamps={open ? <Stamp word="Running" /> : run.toExplain ? <Stamp word="To explain" /> : null}
      sub={<Said run={run} />}
      facts={useFacts(run)}
      actions={open || !mayCorrect || run.lot === null ? undefined : <CorrectLink run={run} />}
    >
      <div className="floor">
        {open && mayWork ? <Work run={run} /> : null}
        {run.toExplain ? <Explain run={run} /> : null}
        {open ? null : <ClosedRun run={run} />}
        {run.toExplain || run.investigations.length === 0 ? null : <Explain run={run} />}
        {wants ? (
          <Section title={run.recipe === null ? 'Components' : 'Steps'} note={`by ${run.recipe ?? run.bom}`}>
            <Steps run={run} />
          </Section>
        ) : null}
        <ChargesTable run={run} />
        {makesPieces(run, tracking) ? <RunRibbon run={run} /> : null}
        {run.kind === 'rework' || run.replacements.length > 0 ? <Replacements run={run} /> : null}
        {open && mayWork && run.vessel !== null ? <TransferRun run={run} /> : null}
        <RunStory run={run} />
        <Entries about={{ run: run.run }} />
      </div>
    </Page>
  );
}

const CorrectLink = ({ run }: { run: Run }) => (
  <Link className="button" href={`/production/runs/${encodeURIComponent(run.run)}/correct`}>
    Put its record right
  </Link>
);

function Said({ run }: { run: Run }) {
  return (
    <>
      {run.name} <Refer kind="item" code={run.item} />
      {run.vessel === null ? null : (
        <>
          {' '}
          in <Refer kind="vessel" code={run.vessel} />
        </>
      )}
      {run.line === null ? null : <> on {run.line}</>}, begun {localWritten(run.startedAt)} by {run.people.join(', ')}
      {run.finishedAt === null ? null : <>, finished {localWritten(run.finishedAt)}</>}
    </>
  );
}

function useFacts(run: Run): Fact[] {
  const now = usePlantClock(MINUTE);
  const lasted = (run.finishedAt === null ? now : msOf(run.finishedAt)) - msOf(run.startedAt);
  const mass = run.charges.reduce((sum, charge) => sum + parseQuantity(charge.mass), 0);
  return [
    { label: 'Planned', value: run.planned === null ? (run.recipe === null ? '–' : 'as the recipe') : amount(run.planned, run.unit) },
    mass > 0
      ? { label: 'Charged', value: amount(formatQuantity(mass), 'kg') }
      : { label: 'Charges', value: run.charges.filter(({ quantity }) => quantity !== '0').length },
    run.yields === null
      ? { label: 'Yield', value: run.state === 'open' ? 'not yet' : 'none' }
      : { label: 'Yield', value: amount(run.yields.quantity, run.yields.unit), warn: run.toExplain },
    { label: run.state === 'open' ? 'Running for' : 'Took', value: elapsedWords(lasted) },
  ];
}

/** What there is to do, one thing after the other: the heel first, then charging, then closing. */
function Work({ run }: { run: Run }) {
  const item = useItemOf(nextWant(run)?.item ?? run.item);
  const heel = run.heel.length > 0;
  const all = nextWant(run) === null && run.charges.length > 0;
  return (
    <Section title="What to do now" id="work">
      <MixingTimer run={run} />
      <Hazard of={item?.name} says={item?.hazard} />
      {heel ? <HeelPanel run={run} /> : <ChargePanel run={run} />}
      <p className="row close-row">
        <Link className={`button big${all && !heel ? ' primary' : ''}`} href={`/production/runs/${encodeURIComponent(run.run)}/close`}>
          {all ? `Close ${run.run}: say what came out` : `Close ${run.run}`}
        </Link>
        {all && run.steps.length + run.components.length > 0 ? <span className="quiet">Everything has what it wants.</span> : null}
      </p>
    </Section>
  );
}
