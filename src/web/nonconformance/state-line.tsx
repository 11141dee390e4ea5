import { daysSince, daysWritten } from './ages.js';
import type { Report } from './report-parts.js';
import { asTitle, type ReportState, waitsFor, WAY } from './words.js';

/** Where on the page each state of the way is worked on. */
const STEP_OF: Readonly<Record<ReportState, string>> = {
  raised: 'raised',
  contained: 'containment',
  reviewed: 'review',
  dispositioned: 'dispositions',
  'carried-out': 'dispositions',
  verified: 'dispositions',
  closed: 'closing',
  withdrawn: 'closing',
};

/** The line of a report's states from raised to closed: which are behind it, which it is in, and what that one waits for. */
export function StateLine({ report }: { report: Report }) {
  const at = WAY.indexOf(report.state);
  const withdrawn = report.state === 'withdrawn';
  return (
    <nav aria-label="From raised to closed" className="nc-way">
      <ol>
        {WAY.map((state, i) => {
          const stands = withdrawn
            ? i === 0
              ? 'behind'
              : 'ahead'
            : i < at || report.state === 'closed'
              ? 'behind'
              : i === at
                ? 'here'
                : 'ahead';
          return (
            <li key={state} className={stands} aria-current={i === at ? 'step' : undefined}>
              <a href={`#${STEP_OF[state]}`} onClick={() => unfold(STEP_OF[state])}>
                <svg width="22" height="22" viewBox="0 0 22 22" aria-hidden="true">
                  <circle cx="11" cy="11" r="9" />
                  {stands === 'behind' ? <path d="M6.5 11.5 10 15 16 7.5" /> : null}
                  {stands === 'here' ? <circle className="dot" cx="11" cy="11" r="4.5" /> : null}
                </svg>
                <span>{asTitle(state)}</span>
                <span className="hidden-but-read">{stands === 'behind' ? ', done' : stands === 'here' ? ', now' : ', to come'}</span>
              </a>
            </li>
          );
        })}
      </ol>
      <p role="status">
        {withdrawn ? (
          <strong>Withdrawn: it was no nonconformity. A withdrawn report is not taken up again.</strong>
        ) : report.state === 'closed' ? (
          'Closed: nothing is left to do.'
        ) : (
          <>
            Waits for <strong>{waitsFor(report.state).what}</strong>, by {waitsFor(report.state).who};{' '}
            {daysSince(report.stateAt) === 0 ? 'since today' : `for ${daysWritten(daysSince(report.stateAt))}`}.
          </>
        )}
      </p>
    </nav>
  );
}

/** Opens a step that is folded, if there is one of that name. */
export function unfold(id: string): HTMLDetailsElement | null {
  const step = document.getElementById(id);
  if (!(step instanceof HTMLDetailsElement)) return null;
  step.open = true;
  return step;
}
