import { writtenDate } from '../../../../shared/written.js';
import { counted, type Known, listed, partOf, signedBy } from '../telling/words.facts.js';
import type {
  DispositionCarriedOut,
  DispositionProposed,
  DispositionSigned,
  DispositionVerified,
  DispositionWithdrawn,
} from './disposition.facts.js';
import type {
  ActionDone,
  ActionPlanned,
  CauseAnalysed,
  CostRecorded,
  EffectivenessChecked,
  EffectivenessPlanned,
} from './learning.facts.js';
import type {
  AffectedPart,
  ConsigneeAnswered,
  ConsigneeTold,
  ReportClosed,
  ReportContained,
  ReportPartJudged,
  ReportRaised,
  ReportReopened,
  ReportReviewed,
  ReportWithdrawn,
} from './nonconformance.facts.js';

const parts = (affected: readonly AffectedPart[], known: Known): string => listed(affected.map((part) => partOf(part, known)));

const yesNo = ({ needed, reason }: { readonly needed: boolean; readonly reason: string }): string => `${needed ? 'yes' : 'no'} (${reason})`;

export const sayNonconformance = {
  ReportRaised: ({ report, severity, requirement, found, parts: affected }: ReportRaised, known: Known): string =>
    `Nonconformance report ${report} raised, ${severity}, on ${parts(affected, known)}: ${found}; requirement: ${requirement}`,
  ReportPartJudged: ({ report, part, affected, reason }: ReportPartJudged, known: Known): string =>
    `${partOf(part, known)} judged ${affected ? 'affected' : 'not affected'} by ${report}: ${reason}`,
  ReportContained: ({ report, holds, signature }: ReportContained): string =>
    `${report} contained by ${listed(holds)}${signedBy(signature)}`,
  ConsigneeTold: ({ report, customer, channel, what }: ConsigneeTold): string => `${customer} told of ${report} by ${channel}: ${what}`,
  ConsigneeAnswered: ({ report, customer, answer }: ConsigneeAnswered): string => `${customer} answered on ${report}: ${answer}`,
  ReportReviewed: ({ report, severity, investigate, inform, signature }: ReportReviewed): string =>
    `${report} reviewed, ${severity}; cause investigated: ${yesNo(investigate)}; party responsible told: ${yesNo(inform)}${signedBy(signature)}`,
  DispositionProposed: ({ report, disposition, terms }: DispositionProposed, known: Known): string =>
    `Disposition ${disposition} of ${report} proposed, ${terms.kind} of ${partOf(terms.part, known)}: ${terms.reason}`,
  DispositionWithdrawn: ({ report, disposition, reason }: DispositionWithdrawn): string =>
    `Disposition ${disposition} of ${report} taken back: ${reason}`,
  DispositionSigned: ({ report, disposition, as, complete, signature }: DispositionSigned): string =>
    `Disposition ${disposition} of ${report} signed for ${as}${complete ? '; no signature lacks any more' : ''}${signedBy(signature)}`,
  DispositionCarriedOut: ({ report, disposition, evidence }: DispositionCarriedOut): string =>
    `Disposition ${disposition} of ${report} carried out: ${evidence.note}`,
  DispositionVerified: ({ report, disposition, inspection }: DispositionVerified): string =>
    `Disposition ${disposition} of ${report} verified by inspection ${inspection}`,
  CauseAnalysed: ({ report, categories, conclusion }: CauseAnalysed): string => `Cause of ${report} (${listed(categories)}): ${conclusion}`,
  ActionPlanned: ({ report, action, actionKind, what, owner, dueOn }: ActionPlanned): string =>
    `Action ${action} of ${report}, ${actionKind}, by ${owner} until ${writtenDate(dueOn)}: ${what}`,
  ActionDone: ({ report, action, evidence }: ActionDone): string => `Action ${action} of ${report} done: ${evidence}`,
  EffectivenessPlanned: ({ report, criterion, checkOn }: EffectivenessPlanned): string =>
    `Effectiveness of ${report} is checked on ${writtenDate(checkOn)} by this criterion: ${criterion}`,
  EffectivenessChecked: ({ report, state, effective, harm, evidence, reason, signature }: EffectivenessChecked): string =>
    `Corrective action of ${report} found ${effective ? '' : 'not '}effective: ${evidence}; harm: ${harm}; ${reason}` +
    `${state === 'closed' ? `; ${report} closed by it` : ''}${signedBy(signature)}`,
  CostRecorded: ({ report, disposition, costKind, minor }: CostRecorded): string =>
    `Cost of ${disposition === null ? report : `disposition ${disposition} of ${report}`}, ${costKind}: ${counted(minor, 'minor unit')}`,
  ReportClosed: ({ report, reason, signature }: ReportClosed): string => `${report} closed: ${reason}${signedBy(signature)}`,
  ReportWithdrawn: ({ report, reason, signature }: ReportWithdrawn): string => `${report} withdrawn: ${reason}${signedBy(signature)}`,
  ReportReopened: ({ report, reason, signature }: ReportReopened): string => `${report} opened again: ${reason}${signedBy(signature)}`,
};
