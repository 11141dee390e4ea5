import { writtenDate } from '../../../../shared/written.js';
import { counted, type Known, listed, partOf, signedBy } from '../telling/words.facts.js';
import type {
  Outcome,
  RecallAccounted,
  RecallAnswered,
  RecallClosingSigned,
  RecallEffectivenessChecked,
  RecallGapClosed,
  RecallGapFound,
  RecallNoticeSent,
  RecallNoticeWritten,
  RecallReportsLinked,
  RecallStrategySet,
} from './progress.facts.js';

const OUTCOME_WORDS: Readonly<Record<Outcome, string>> = { destroyed: 'destroyed', corrected: 'corrected', soldOn: 'sold on' };

export const sayRecallProgress = {
  RecallStrategySet: ({ recall, terms, reason, signature }: RecallStrategySet): string =>
    `Recall ${recall} set to class ${terms.class}, down to ${terms.depth} level, effectiveness checks at level ${terms.level}: ${reason}` +
    signedBy(signature),
  RecallReportsLinked: ({ recall, reports }: RecallReportsLinked): string =>
    `Recall ${recall} comes from ${listed(reports.map(({ report }) => report))}`,
  RecallNoticeWritten: ({ recall, version, parts }: RecallNoticeWritten): string =>
    `Notice of ${recall} written as version ${version}: ${parts.subject}`,
  RecallNoticeSent: ({ recall, customer, channel, version }: RecallNoticeSent): string =>
    customer === null
      ? `Public warning of ${recall} given, with version ${version} of its notice`
      : `Notice of ${recall}, version ${version}, sent to ${customer} by ${channel}`,
  RecallAnswered: ({ recall, customer, onHand, signedBy: signer, answeredOn }: RecallAnswered, known: Known): string =>
    `${customer} answered ${recall} on ${writtenDate(answeredOn)}, signed by ${signer}; on hand: ${listed(onHand.map((part) => partOf(part, known)))}`,
  RecallAccounted: ({ recall, customer, lot, outcomes, evidence }: RecallAccounted, known: Known): string => {
    const parts = (Object.keys(OUTCOME_WORDS) as Outcome[])
      .filter((outcome) => outcomes[outcome].quantityMicro > 0)
      .map((outcome) => `${partOf({ lot, ...outcomes[outcome] }, known)} ${OUTCOME_WORDS[outcome]}`);
    return `${customer} accounts to ${recall} for ${parts.length === 0 ? `nothing of ${lot}` : listed(parts)}: ${evidence}`;
  },
  RecallEffectivenessChecked: ({ recall, customer, method, reached, followed, note }: RecallEffectivenessChecked): string =>
    `${customer} asked by ${method} about ${recall}: the notice ${reached ? 'arrived' : 'did not arrive'} and was ${followed ? '' : 'not '}followed: ${note}`,
  RecallGapFound: ({ recall, gap, found, action, owner, dueOn }: RecallGapFound): string =>
    `Gap ${gap} found in ${recall}: ${found}; ${owner} is to see to it by ${writtenDate(dueOn)}: ${action}`,
  RecallGapClosed: ({ recall, gap, done }: RecallGapClosed): string => `Gap ${gap} of ${recall} closed: ${done}`,
  RecallClosingSigned: ({ recall, as, closes, outstanding, nevertheless, reason, signature }: RecallClosingSigned): string =>
    `${closes ? `Recall ${recall} closed` : `Closing of ${recall} signed`} as ${as}: ${reason}` +
    (nevertheless === null ? '' : `; ${counted(outstanding.length, 'thing')} outstanding, nevertheless: ${nevertheless}`) +
    signedBy(signature),
};
