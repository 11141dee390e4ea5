import type { Reasons } from '../../../../shared/refusal.js';
import { formatQuantity } from '../../../../shared/quantity.js';
import { formatSpans } from '../../../../shared/spans.js';
import { accountsOf } from './adds-up.decide.js';
import { checkLearned } from './learned.decide.js';
import type { Report } from './report-state.facts.js';
import { moveBetween, type Need, type ReportState } from './states.facts.js';

/** What the needs of a move are judged by, beside the report. */
export interface NeedState {
  /** Dispositions that lack signatures, in words by number. */
  readonly lacking: ReadonlyMap<number, readonly string[]>;
  /** Whether every affected part that is still here is stopped by a hold of the report. */
  readonly contained: boolean;
}

const CHECK: Readonly<Record<Need, (no: Reasons, report: Report, state: NeedState) => void>> = {
  contained(no, { report }, { contained }) {
    if (!contained) no.conflict('not-contained', `not everything affected by ${report} is on a hold of its own`, { report });
  },
  'reviewed-answers'(no, { report, review }) {
    if (review === null) no.conflict('not-reviewed', `${report} has not been reviewed`, { report });
  },
  'adds-up'(no, report) {
    for (const account of accountsOf(report)) {
      const { lot, openSpans, openMicro, tooManySpans, tooManyMicro } = account;
      if (openMicro > 0) {
        const which = openSpans === null ? formatQuantity(openMicro) : `pieces ${formatSpans(openSpans)}`;
        no.conflict('dispositions-open', `${which} of ${lot} have no disposition`, { report: report.report, lot });
      }
      if (tooManyMicro > 0) {
        const which = tooManySpans === null ? formatQuantity(tooManyMicro) : `pieces ${formatSpans(tooManySpans)}`;
        no.conflict('dispositions-too-many', `${which} of ${lot} have more than one disposition, or are not affected`, {
          report: report.report,
          lot,
        });
      }
    }
  },
  'all-signed'(no, report, { lacking }) {
    for (const [disposition, lacks] of lacking) {
      for (const what of lacks) {
        no.conflict('signature-lacking', `disposition ${disposition} of ${report.report} lacks ${what}`, {
          report: report.report,
          disposition,
        });
      }
    }
  },
  'all-carried-out'(no, report) {
    for (const one of standing(report)) {
      if (one.carriedOut !== null) continue;
      const { disposition, terms } = one;
      no.conflict('not-carried-out', `disposition ${disposition} of ${report.report} (${terms.kind}) is not carried out`, {
        report: report.report,
        disposition,
      });
    }
  },
  'all-verified'(no, report) {
    for (const { disposition, terms, verifiedBy } of standing(report)) {
      if (!needsVerification(terms.kind) || verifiedBy !== null) continue;
      no.conflict('not-verified', `disposition ${disposition} of ${report.report} (${terms.kind}) waits for an inspection after it`, {
        report: report.report,
        disposition,
      });
    }
  },
  learned: (no, report) => checkLearned(no, report),
  'nothing-carried-out'(no, report) {
    for (const { disposition } of standing(report).filter((one) => one.carriedOut !== null)) {
      no.conflict(
        'carried-out-already',
        `disposition ${disposition} of ${report.report} is carried out: the report is no longer withdrawn`,
        {
          report: report.report,
          disposition,
        },
      );
    }
  },
};

const standing = (report: Report) => report.dispositions.filter((one) => one.withdrawn === null);

/** Rework and repair change the pieces: nothing made before counts for them. */
export const needsVerification = (kind: string): boolean => kind === 'rework' || kind === 'repair';

/**
 * Adds everything that stands against a move of a report: that there is no such move from its state, or a need that is not met.
 * @see docs/rules/nonconformance.md NR-1, NR-2
 */
export function checkMove(no: Reasons, report: Report, to: ReportState, state: NeedState): void {
  const move = moveBetween(report.state, to);
  if (!move) {
    no.conflict('report-in-other-state', `${report.report} is ${report.state}: from there it does not become ${to}`, {
      report: report.report,
      state: report.state,
    });
    return;
  }
  for (const need of move.needs) CHECK[need](no, report, state);
}

/** Adds the needs of one move that are not met, whatever state the report is in. @see docs/rules/nonconformance.md NR-2 */
export function checkNeeds(no: Reasons, report: Report, from: ReportState, to: ReportState, state: NeedState): void {
  for (const need of moveBetween(from, to)?.needs ?? []) CHECK[need](no, report, state);
}

/** Whether a report could make a move now. */
export function couldMove(report: Report, to: ReportState, state: NeedState, reasons: Reasons): boolean {
  checkMove(reasons, report, to, state);
  return !reasons.any;
}
