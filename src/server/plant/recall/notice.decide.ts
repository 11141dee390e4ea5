import { Reasons } from '../../../../shared/refusal.js';
import { addDays } from '../../../../shared/time.js';
import { isUrgent, namesCode, noticeText, saysUrgent } from './notice-text.facts.js';
import { checkConsignee, checkNoDrill, checkOpen, type RecallKnown } from './open.decide.js';
import type { Channel, NoticeParts, RecallClass, RecallNoticeSent, RecallNoticeWritten } from './progress.facts.js';
import type { Progress } from './progress-state.facts.js';

const classOf = ({ strategies }: Progress): RecallClass | null => strategies.at(-1)?.fact.terms.class ?? null;

/**
 * A version of what notices say. A drill may write one: that is practice, and the text says that it is not to be sent.
 * @see docs/rules/recall.md RL-13
 */
export function decideNoticeText(parts: NoticeParts, progress: Progress): RecallNoticeWritten {
  const no = new Reasons();
  checkOpen(no, progress);
  const now = classOf(progress);
  if (now !== null && isUrgent(now) && !saysUrgent(parts.subject)) {
    no.conflict('not-urgent', `class ${now}: the subject of the notice begins with URGENT`, { pointer: '/subject', class: now });
  }
  if (now === 'III' && saysUrgent(parts.subject)) {
    no.conflict('urgent-without-need', 'class III: a notice is not marked URGENT', { pointer: '/subject' });
  }
  no.throwIfAny();
  return { kind: 'RecallNoticeWritten', v: 1, recall: progress.recall, version: progress.texts.length + 1, parts };
}

interface SendNotice {
  /** Null: to the public. */
  readonly customer: string | null;
  readonly channel: Channel;
  readonly version: number;
  readonly nextContactOn?: string | undefined;
}

/** Days after which a consignee that is silent is asked again unless the notice says otherwise: this plant's practice, by class. */
const ASK_AGAIN_AFTER: Readonly<Record<RecallClass, number>> = { I: 1, II: 3, III: 7 };

/**
 * A notice goes out. Its content is that of a version, kept with it; its time is that of the entry.
 * @throws Refusal with everything that is in the way: a drill, no strategy, a text that does not name what the consignee has
 * @see docs/rules/recall.md RL-13, RL-14
 */
export function decideNotice(command: SendNotice, known: RecallKnown): RecallNoticeSent {
  const { progress, at } = known;
  const no = new Reasons();
  checkOpen(no, progress);
  checkNoDrill(no, progress);
  checkChannel(no, command);
  const recallClass = classOf(progress);
  if (recallClass === null) no.conflict('strategy-first', `${progress.recall} has no strategy: set it before anyone is told`);
  const text = progress.texts.find(({ fact }) => fact.version === command.version);
  if (!text) {
    no.unknown('notice-text-unknown', `${progress.recall} has ${progress.texts.length} versions of its notice`, { pointer: '/version' });
  }
  const account = command.customer === null ? undefined : checkConsignee(no, known, command.customer);
  const content = text === undefined ? '' : noticeText(text.fact.parts, recallClass, false);
  if (text && recallClass === 'III' && saysUrgent(content)) {
    no.conflict('urgent-without-need', 'class III: a notice is not marked URGENT', { pointer: '/version' });
  }
  const lots = account?.lots ?? known.consignees.flatMap((one) => one.lots);
  const unnamed = text ? [...new Set(lots.map(({ lot }) => lot))].filter((lot) => !namesCode(text.fact.parts.product, lot)) : [];
  if (unnamed.length > 0) {
    no.conflict('lot-not-named', `the notice does not name ${unnamed.join(', ')}: write a version that does`, {
      pointer: '/version',
      lots: unnamed,
    });
  }
  const today = at.slice(0, 10);
  if (command.nextContactOn !== undefined && command.nextContactOn < today) {
    no.conflict('next-contact-past', `${command.nextContactOn} is past: say when they are asked again`, { pointer: '/nextContactOn' });
  }
  no.throwIfAny();
  const { customer, channel, version } = command;
  return {
    kind: 'RecallNoticeSent',
    v: 1,
    recall: progress.recall,
    notice: progress.notices.length + 1,
    customer,
    channel,
    version,
    content,
    nextContactOn: customer === null ? null : (command.nextContactOn ?? addDays(today, ASK_AGAIN_AFTER[recallClass!])),
  };
}

function checkChannel(no: Reasons, { customer, channel }: SendNotice): void {
  const toPublic = channel === 'public-warning';
  if (toPublic === (customer === null)) return;
  no.malformed('customer-or-public', toPublic ? 'a public warning goes to no one customer' : 'a notice needs the customer it goes to', {
    pointer: '/customer',
  });
}
