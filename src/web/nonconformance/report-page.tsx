import { useEffect, useRef } from 'react';
import { Link } from 'wouter';
import { inWords } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { Entries } from '../design/entries.js';
import { Caution, type Fact, Page } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server } from '../wire/client.js';
import { daysSince, daysWritten } from './ages.js';
import { totalWritten } from './amounts.js';
import { ClosingStep } from './closing-step.js';
import { ConsigneesStep } from './consignees-step.js';
import { ContainmentStep } from './containment-step.js';
import { CostsStep } from './costs-step.js';
import { DispositionsStep } from './dispositions-step.js';
import { LearningStep } from './learning-step.js';
import { RaisedStep } from './raised-step.js';
import { Repeats } from './repeats.js';
import { type Disposed, type Entry, type Learning, type Report, traceAll } from './report-parts.js';
import { ReviewStep } from './review-step.js';
import { SeverityMark } from './severity.js';
import { StateLine, unfold } from './state-line.js';
import { asTitle, isOpen, SOURCE_KIND } from './words.js';

/** One report from raised to closed, on one page: what is due now is open with its form, what is done is folded. */
export function ReportPage({ code }: { code: string }) {
  const at = { params: { path: { report: code } } };
  const report = server.useQuery('get', '/api/reports/{report}', at);
  const disposed = server.useQuery('get', '/api/reports/{report}/dispositions', at);
  const learning = server.useQuery('get', '/api/reports/{report}/learning', at);
  const entries = server.useQuery('get', '/api/ledger/about', { params: { query: { report: code } } });
  if (report.data === undefined || disposed.data === undefined || learning.data === undefined) {
    return (
      <Page crumb={<Link href="/nonconformance">Nonconformance</Link>} name={code} title={<span className="code">{code}</span>}>
        <Answered query={report} what={`report ${code}`}>
          {() => (
            <Answered query={disposed} what="its dispositions">
              {() => (
                <Answered query={learning} what="what it taught">
                  {() => null}
                </Answered>
              )}
            </Answered>
          )}
        </Answered>
      </Page>
    );
  }
  return <Told report={report.data} disposed={disposed.data} learning={learning.data} entries={entries.data?.told ?? []} />;
}

interface Parts {
  readonly report: Report;
  readonly disposed: Disposed;
  readonly learning: Learning;
  readonly entries: readonly Entry[];
}

/** When a step is done, the next one that is due takes focus: what was worked on is folded away with the button that was pressed. */
function useNextStep(state: string): void {
  const before = useRef(state);
  useEffect(() => {
    if (before.current === state) return;
    before.current = state;
    const due = document.querySelector<HTMLElement>('.nc-step.due > summary');
    due?.focus();
    due?.scrollIntoView({ block: 'start' });
  }, [state]);
}

/** Whoever comes to a step by its name finds it open, with the focus on it: as from what waits for them. */
function useNamedStep(): void {
  useEffect(() => {
    const show = (): void => {
      const step = unfold(window.location.hash.slice(1));
      step?.scrollIntoView({ block: 'start' });
      step?.querySelector<HTMLElement>('summary')?.focus({ preventScroll: true });
    };
    show();
    window.addEventListener('hashchange', show);
    return () => window.removeEventListener('hashchange', show);
  }, []);
}

function Told({ report, disposed, learning, entries }: Parts) {
  useNextStep(report.state);
  useNamedStep();
  return (
    <Page
      crumb={
        <>
          <Link href="/nonconformance">Nonconformance</Link> · {asTitle(report.state)}
        </>
      }
      name={report.report}
      title={<span className="code">{report.report}</span>}
      stamps={<SeverityMark severity={report.severity} />}
      sub={<Sub report={report} />}
      facts={factsOf(report, disposed)}
      actions={<Actions report={report} />}
    >
      {report.severity === 'critical' && isOpen(report.state) ? (
        <Caution>
          <p>
            <strong>Critical: somebody may come to harm.</strong> No concession by quality alone; two people sign. What was shipped is asked
            about first.
          </p>
        </Caution>
      ) : null}
      <StateLine report={report} />
      {report.caution === null ? null : <p className="quiet">{report.caution}</p>}
      <RaisedStep report={report} entries={entries} />
      <ContainmentStep report={report} entries={entries} />
      <ConsigneesStep report={report} />
      <ReviewStep report={report} entries={entries} disposed={disposed} />
      <DispositionsStep report={report} disposed={disposed} />
      <LearningStep report={report} learning={learning} entries={entries} />
      <CostsStep report={report} learning={learning} disposed={disposed} />
      <ClosingStep report={report} learning={learning} entries={entries} />
      <Repeats learning={learning} />
      <Entries about={{ report: report.report }} />
    </Page>
  );
}

function Sub({ report }: { report: Report }) {
  const kind = SOURCE_KIND[report.source];
  const code = report.sourceCode;
  return (
    <>
      {report.requirement}. Raised {localWritten(report.raisedAt)} by <code>{report.raisedBy}</code>; found: {inWords(report.source)}{' '}
      {code === null ? null : kind === undefined ? <code>{code}</code> : <Refer kind={kind} code={code} />}
    </>
  );
}

function factsOf(report: Report, disposed: Disposed): Fact[] {
  const of = (what: 'affected' | 'disposed' | 'open') =>
    totalWritten(disposed.accounts.map((one) => ({ quantity: one[what], unit: one.unit })));
  const open = disposed.accounts.some((one) => one.open !== '0');
  return [
    { label: 'Affected', value: of('affected') },
    { label: 'Disposed of', value: of('disposed') },
    { label: 'Undecided', value: of('open'), warn: open },
    isOpen(report.state)
      ? { label: 'Open for', value: daysWritten(daysSince(report.raisedAt)) }
      : { label: 'State', value: asTitle(report.state) },
  ];
}

function Actions({ report }: { report: Report }) {
  const numbered = report.parts.some(({ pieces }) => pieces !== null);
  // A trace of several lots takes all but the first as wholes.
  const overstates = report.parts.slice(1).some(({ pieces }) => pieces !== null);
  return (
    <>
      <a className="button" href={`/api/reports/${encodeURIComponent(report.report)}/report.pdf`} target="_blank" rel="noreferrer">
        Report as PDF
      </a>
      {report.parts.length === 0 ? null : (
        <Link className="button" href={traceAll(report.parts)}>
          {overstates ? 'Trace the affected lots' : 'Trace everything affected'}
        </Link>
      )}
      {numbered ? (
        <Link className="button" href={`/trace/suspects?report=${encodeURIComponent(report.report)}`}>
          What do the failed pieces have in common
        </Link>
      ) : null}
    </>
  );
}
