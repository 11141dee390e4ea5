import { useMay } from '../app/session.js';
import { Actions } from './actions.js';
import { Cause } from './cause.js';
import { Effectiveness } from './effectiveness.js';
import type { Entry, Learning, Report } from './report-parts.js';
import { Said, Step, type StepStands } from './step.js';

/** Cause, actions and whether they worked. A report whose review asks for the cause closes only when all of it is there. */
export function LearningStep({ report, learning, entries }: { report: Report; learning: Learning; entries: readonly Entry[] }) {
  const ended = report.state === 'closed' || report.state === 'withdrawn';
  const begun = report.review !== null;
  const lacks = learning.lacking.length > 0;
  const done = ended || (learning.asked && !lacks);
  // Until it is all that stands against closing it goes on beside the other steps: its actions have days of their own.
  const stands: StepStands = !begun ? 'later' : done ? 'done' : lacks && report.state === 'verified' ? 'due' : 'beside';
  const writes = useMay('quality', 'inspector') && !ended;
  return (
    <Step id="learning" title="Cause and actions" stands={stands} note={noteOf(learning, begun)}>
      {learning.lacking.length === 0 || ended ? null : (
        <div className="nc-lacking">
          <p>
            <strong>Before the report closes:</strong>
          </p>
          <ul>
            {learning.lacking.map(({ code, detail }) => (
              <li key={`${code} ${detail}`}>{detail}</li>
            ))}
          </ul>
        </div>
      )}
      <Cause report={report} learning={learning} writes={writes} />
      <Actions report={report} learning={learning} writes={writes} />
      <Effectiveness report={report} learning={learning} />
      <Said entries={entries} kinds={['CauseAnalysed', 'EffectivenessChecked']} />
    </Step>
  );
}

function noteOf(learning: Learning, begun: boolean): string {
  const open = learning.actions.filter(({ done }) => done === null);
  const late = open.filter(({ overdue }) => overdue).length;
  const actions = learning.actions.length === 0 ? 'no action' : `${open.length} of ${learning.actions.length} actions open`;
  if (!begun) return 'the review says whether the cause is investigated';
  return `${learning.asked ? 'asked for by the review' : 'not asked for'}; ${learning.cause === null ? 'no cause yet' : learning.cause.conclusion}; ${actions}${late > 0 ? `, ${late} overdue` : ''}`;
}
