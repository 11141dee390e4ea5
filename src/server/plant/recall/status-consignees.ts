import { formatQuantity } from '../../../../shared/quantity.js';
import type { Consignee } from '../../documents/recall-report.types.js';
import { writtenBp } from './closing.decide.js';
import { type ConsigneeAccount, type LotAccount, shareBp, type UnitSum } from './consignee-accounts.facts.js';
import type { Part, RecallAnswered, RecallEffectivenessChecked, RecallNoticeSent } from './progress.facts.js';
import { latestBy, type Progress, type RecallEntry } from './progress-state.facts.js';
import type {
  AccountPartView,
  ConsigneeStatusView,
  RecallCheckView,
  GoodsView,
  LotAccountView,
  NoticeView,
  RecallAnswerView,
} from './status.dto.js';

const partView = ({ spans, quantityMicro }: Part): AccountPartView => ({
  spans: spans as number[][] | null,
  quantity: formatQuantity(quantityMicro),
});

const lotAccountView = (account: LotAccount): LotAccountView => ({
  lot: account.lot,
  unit: account.unit,
  sent: partView(account.sent),
  cameBack: partView(account.cameBack),
  destroyed: partView(account.destroyed),
  corrected: partView(account.corrected),
  soldOn: partView(account.soldOn),
  outstanding: partView(account.outstanding),
  contradicted: partView(account.contradicted),
});

export const noticeView = ({ seq, at, actor, fact }: RecallEntry<RecallNoticeSent>): NoticeView => ({
  notice: fact.notice,
  seq,
  at,
  by: actor,
  customer: fact.customer,
  channel: fact.channel,
  version: fact.version,
  content: fact.content,
  nextContactOn: fact.nextContactOn,
});

const answerView = ({ seq, at, actor, fact }: RecallEntry<RecallAnswered>): RecallAnswerView => ({
  seq,
  at,
  by: actor,
  ...fact.followed,
  onHand: fact.onHand.map((part) => ({ lot: part.lot, ...partView(part) })),
  signedBy: fact.signedBy,
  answeredOn: fact.answeredOn,
  note: fact.note,
});

const checkView = ({ seq, at, actor, fact }: RecallEntry<RecallEffectivenessChecked>): RecallCheckView => ({
  seq,
  at,
  by: actor,
  method: fact.method,
  reached: fact.reached,
  followed: fact.followed,
  note: fact.note,
});

/** Every consignee with what it was told, answered and accounted for. */
export function consigneeStatuses(
  accounts: readonly ConsigneeAccount[],
  consignees: readonly Consignee[],
  progress: Progress,
): ConsigneeStatusView[] {
  const answers = latestBy(progress.answers);
  const checks = latestBy(progress.checks);
  const heads = new Map(consignees.map((consignee) => [consignee.code, consignee]));
  const notices = new Map<string, NoticeView[]>();
  for (const notice of progress.notices) {
    const { customer } = notice.fact;
    if (customer === null) continue;
    const list = notices.get(customer) ?? [];
    notices.set(customer, list);
    list.push(noticeView(notice));
  }
  return accounts.map(({ customer, lots }) => {
    const answer = answers.get(customer);
    const check = checks.get(customer);
    return {
      customer,
      name: heads.get(customer)?.name ?? customer,
      contact: heads.get(customer)?.contact ?? null,
      notices: notices.get(customer) ?? [],
      answer: answer ? answerView(answer) : null,
      lots: lots.map(lotAccountView),
      check: check ? checkView(check) : null,
    };
  });
}

export function goodsView(sum: UnitSum): GoodsView {
  const recovered = sum.cameBackMicro + sum.destroyedMicro + sum.correctedMicro;
  return {
    unit: sum.unit,
    sent: formatQuantity(sum.sentMicro),
    cameBack: formatQuantity(sum.cameBackMicro),
    destroyed: formatQuantity(sum.destroyedMicro),
    corrected: formatQuantity(sum.correctedMicro),
    soldOn: formatQuantity(sum.soldOnMicro),
    outstanding: formatQuantity(sum.outstandingMicro),
    contradicted: formatQuantity(sum.contradictedMicro),
    recovered: writtenBp(shareBp(recovered, sum.sentMicro)),
    accounted: writtenBp(shareBp(sum.sentMicro - sum.outstandingMicro, sum.sentMicro)),
  };
}
