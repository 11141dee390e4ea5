import type { Reasons } from '../../../../shared/refusal.js';
import type { EffectivenessChecked } from './learning.facts.js';
import type { Report, ReportEntry } from './report-state.facts.js';

type ReportAction = Report['actions'][number];

/** The last check that found the corrective action not effective. */
const failedCheck = (report: Report): ReportEntry<EffectivenessChecked> | undefined =>
  report.entries.filter(isCheck).findLast((entry) => !entry.fact.effective);

const isCheck = (entry: ReportEntry): entry is ReportEntry<EffectivenessChecked> => entry.fact.kind === 'EffectivenessChecked';

/** Corrective actions that a check is on: those planned since the last one that did not find them effective. */
export function correctiveActions(report: Report): ReportAction[] {
  const since = failedCheck(report)?.seq ?? 0;
  return report.actions.filter(({ planned }) => planned.fact.actionKind === 'corrective' && planned.seq > since);
}

/**
 * Whether a report closes only when something was learned: the review asked for the cause, or a check has found that the action did not work.
 * @see docs/rules/nonconformance.md NR-40, NR-45
 */
export const learningAsked = (report: Report): boolean => report.review?.investigate.needed === true || failedCheck(report) !== undefined;

/** Adds everything that was not learned, where it is asked for. @see docs/rules/nonconformance.md NR-40, NR-45 */
export function checkLearned(no: Reasons, report: Report): void {
  if (!learningAsked(report)) return;
  const at = { report: report.report };
  if (report.review?.investigate.needed === true && report.cause === null) {
    no.conflict('cause-missing', `the review of ${report.report} asks for a cause: none is recorded`, at);
  }
  checkCorrective(no, report, report.actions);
  checkFoundEffective(no, report);
}

/** Adds that there is no corrective action to check, and which of some actions are not done. */
export function checkCorrective(no: Reasons, report: Report, mustBeDone: readonly ReportAction[]): void {
  const at = { report: report.report };
  if (correctiveActions(report).length === 0) {
    const failed = failedCheck(report);
    const detail =
      failed === undefined
        ? `the cause of ${report.report} has no corrective action`
        : `the corrective action of ${report.report} was found not effective by entry ${failed.seq}: no other is planned since`;
    no.conflict('corrective-action-missing', detail, at);
  }
  for (const { planned, done } of mustBeDone) {
    const { action } = planned.fact;
    if (done === null) no.conflict('action-open', `action ${action} of ${report.report} is not done`, { ...at, action });
  }
}

function checkFoundEffective(no: Reasons, report: Report): void {
  const at = { report: report.report };
  const checked = report.effectiveness?.checked ?? null;
  if (checked?.fact.effective !== true) {
    no.conflict('effectiveness-unchecked', `nobody has found the corrective action of ${report.report} effective`, at);
    return;
  }
  for (const { planned, done } of correctiveActions(report)) {
    if (done === null || done.seq < checked.seq) continue;
    const { action } = planned.fact;
    no.conflict('effectiveness-unchecked', `action ${action} of ${report.report} was done after the check: it asks for another`, {
      ...at,
      action,
    });
  }
}
