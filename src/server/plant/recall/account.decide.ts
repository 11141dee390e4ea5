import { formatQuantity, MICRO, sumMicro } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { countPieces, formatSpans, intersectSpans, type SpanSet, subtractSpans, unionSpans } from '../../../../shared/spans.js';
import { type LotAccount, nothingLike } from './consignee-accounts.facts.js';
import { checkConsignee, checkNoDrill, checkNotified, checkOpen, type RecallKnown } from './open.decide.js';
import {
  type CheckMethod,
  type Outcome,
  OUTCOMES,
  type Part,
  type RecallAccounted,
  type RecallAnswered,
  type RecallEffectivenessChecked,
} from './progress.facts.js';

/** A part as it is asked for: pieces of a numbered lot, or a quantity of a bulk one. */
export interface StatedPart {
  readonly pieces?: SpanSet | undefined;
  readonly quantityMicro?: number | undefined;
}

export interface Answer {
  readonly customer: string;
  readonly followed: RecallAnswered['followed'];
  readonly onHand: readonly (StatedPart & { readonly lot: string })[];
  readonly signedBy: string;
  readonly answeredOn: string;
  readonly note: string | null;
}

/**
 * A consignee's reply: instructions followed, quantity on hand, who signed it and when.
 * @throws Refusal when it was sent no notice, or has more on hand than it was sent and did not send back
 * @see docs/rules/recall.md RL-14
 */
export function decideRecallAnswer(command: Answer, known: RecallKnown): RecallAnswered {
  const { progress, at } = known;
  const no = new Reasons();
  checkOpen(no, progress);
  checkNoDrill(no, progress);
  const account = checkConsignee(no, known, command.customer);
  checkNotified(no, known, command.customer);
  const first = progress.notices.find(({ fact }) => fact.customer === command.customer);
  const pointer = '/answeredOn';
  if (first && command.answeredOn < first.at.slice(0, 10)) {
    no.conflict('answered-before-notice', `the first notice to ${command.customer} went out on ${first.at.slice(0, 10)}`, { pointer });
  }
  if (command.answeredOn > at.slice(0, 10)) no.conflict('answered-later', `${command.answeredOn} is still to come`, { pointer });
  const onHand = command.onHand.map((one, i) => ({ lot: one.lot, ...partOn(no, account?.lots, one.lot, one, `/onHand/${i}`) }));
  for (const [i, one] of onHand.entries()) {
    const twice = onHand.findIndex(({ lot }) => lot === one.lot) < i;
    if (twice) no.conflict('lot-named-twice', `${one.lot} is named twice: give its parts on one line`, { pointer: `/onHand/${i}/lot` });
    const lot = account?.lots.find(({ lot: code }) => code === one.lot);
    if (lot) checkNoMore(no, lot, [one], `/onHand/${i}`);
  }
  no.throwIfAny();
  const { customer, followed, signedBy, answeredOn, note } = command;
  return { kind: 'RecallAnswered', v: 1, recall: progress.recall, customer, followed, onHand, signedBy, answeredOn, note };
}

export interface Account {
  readonly customer: string;
  readonly lot: string;
  readonly outcomes: Readonly<Partial<Record<Outcome, StatedPart>>>;
  readonly evidence: string;
}

/**
 * All that a consignee has accounted for of a lot so far.
 * @throws Refusal when that is more than it was sent and did not send back, or counts a piece twice: never more than 100 %
 * @see docs/rules/recall.md RL-15
 */
export function decideAccount(command: Account, known: RecallKnown): RecallAccounted {
  const { progress } = known;
  const no = new Reasons();
  checkOpen(no, progress);
  checkNoDrill(no, progress);
  const account = checkConsignee(no, known, command.customer);
  const lot = account?.lots.find(({ lot: code }) => code === command.lot);
  if (account && !lot) unsent(no, command.lot, '/lot');
  const parts = OUTCOMES.map((outcome): [Outcome, Part] => {
    const stated = command.outcomes[outcome];
    const none = nothingLike(lot?.sent ?? { spans: null, quantityMicro: 0 });
    return [outcome, lot && stated ? partOn(no, [lot], command.lot, stated, `/${outcome}`) : none];
  });
  if (lot) {
    checkOnce(no, lot.lot, parts);
    checkNoMore(
      no,
      lot,
      parts.map(([, part]) => part),
      '',
    );
  }
  no.throwIfAny();
  const outcomes = Object.fromEntries(parts) as Record<Outcome, Part>;
  const { customer, evidence } = command;
  return { kind: 'RecallAccounted', v: 1, recall: progress.recall, customer, lot: command.lot, outcomes, evidence };
}

const unsent = (no: Reasons, lot: string, pointer: string): void =>
  no.conflict('lot-not-sent', `nothing affected of lot ${lot} was sent to this customer`, { lot, pointer });

/** A stated part in the way its lot is counted. */
function partOn(no: Reasons, lots: readonly LotAccount[] | undefined, code: string, stated: StatedPart, pointer: string): Part {
  const none: Part = { spans: null, quantityMicro: 0 };
  const lot = lots?.find((one) => one.lot === code);
  if (!lot) {
    if (lots) unsent(no, code, `${pointer}/lot`);
    return none;
  }
  if (lot.sent.spans !== null) {
    if (stated.pieces) return { spans: stated.pieces, quantityMicro: countPieces(stated.pieces) * MICRO };
    if (stated.quantityMicro === 0) return { spans: [], quantityMicro: 0 };
    no.conflict('pieces-not-quantity', `${code} has numbered pieces: say which, not how many`, { lot: code, pointer: `${pointer}/pieces` });
    return { spans: [], quantityMicro: 0 };
  }
  if (stated.pieces) no.malformed('lot-not-numbered', `${code} is a bulk lot: it has no piece numbers`, { pointer: `${pointer}/pieces` });
  if (stated.quantityMicro === undefined) {
    if (!stated.pieces) no.malformed('quantity-missing', `how much of ${code}, in ${lot.unit}?`, { pointer: `${pointer}/quantity` });
    return none;
  }
  if (stated.quantityMicro < 0) {
    no.malformed('quantity-negative', 'nothing less than nothing is found', { pointer: `${pointer}/quantity` });
    return none;
  }
  return { spans: null, quantityMicro: stated.quantityMicro };
}

function checkOnce(no: Reasons, lot: string, parts: readonly (readonly [Outcome, Part])[]): void {
  let seen: SpanSet = [];
  for (const [outcome, { spans }] of parts) {
    const twice = intersectSpans(seen, spans ?? []);
    if (twice.length > 0) {
      no.conflict('piece-accounted-twice', `pieces ${formatSpans(twice)} of ${lot} are accounted for in two ways`, {
        pointer: `/${outcome}`,
        pieces: formatSpans(twice),
      });
    }
    seen = unionSpans(seen, spans ?? []);
  }
}

/** What was sent and did not come back is all that there can be. */
function checkNoMore(no: Reasons, lot: LotAccount, parts: readonly Part[], pointer: string): void {
  if (lot.sent.spans !== null) {
    const there = subtractSpans(lot.sent.spans, lot.cameBack.spans ?? []);
    const beyond = subtractSpans(parts.map(({ spans }) => spans ?? []).reduce(unionSpans, []), there);
    if (beyond.length === 0) return;
    no.conflict('more-than-sent', `pieces ${formatSpans(beyond)} of ${lot.lot} were not sent to this customer, or came back`, {
      pointer,
      pieces: formatSpans(beyond),
    });
    return;
  }
  const there = lot.sent.quantityMicro - lot.cameBack.quantityMicro;
  const stated = sumMicro(parts.map(({ quantityMicro }) => quantityMicro));
  if (stated <= there) return;
  const [of, said, sent, back] = [there, stated, lot.sent.quantityMicro, lot.cameBack.quantityMicro].map(formatQuantity);
  no.conflict('more-than-sent', `${said} ${lot.unit} of ${lot.lot}: ${sent} were sent and ${back} came back, which leaves ${of}`, {
    pointer,
    left: of,
  });
}

export interface Check {
  readonly customer: string;
  readonly method: CheckMethod;
  readonly reached: boolean;
  readonly followed: boolean;
  readonly note: string;
}

/**
 * A consignee was asked whether it got the notice and acted on it.
 * @see docs/rules/recall.md RL-17
 */
export function decideEffectivenessCheck(command: Check, known: RecallKnown): RecallEffectivenessChecked {
  const { progress } = known;
  const no = new Reasons();
  checkOpen(no, progress);
  checkNoDrill(no, progress);
  checkConsignee(no, known, command.customer);
  checkNotified(no, known, command.customer);
  if (command.followed && !command.reached) {
    no.malformed('followed-unreached', 'a notice that reached nobody was followed by nobody', { pointer: '/followed' });
  }
  no.throwIfAny();
  const { customer, method, reached, followed, note } = command;
  return { kind: 'RecallEffectivenessChecked', v: 1, recall: progress.recall, customer, method, reached, followed, note };
}
