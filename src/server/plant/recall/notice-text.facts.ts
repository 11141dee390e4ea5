import type { NoticeParts, RecallClass } from './progress.facts.js';

/** Class I and II notices are marked urgent (21 CFR 7.49(b)). */
export const isUrgent = (recallClass: RecallClass): boolean => recallClass !== 'III';

const URGENT = 'URGENT';

/** Whether a subject is marked urgent already. */
export const saysUrgent = (subject: string): boolean => subject.startsWith(URGENT);

/**
 * A notice as it is sent: the statements asked for, in an order that can be acted on, and nothing else.
 * @param recallClass null before the strategy is set
 * @see docs/rules/recall.md RL-13
 */
export function noticeText(parts: NoticeParts, recallClass: RecallClass | null, drill: boolean): string {
  const urgent = recallClass !== null && isUrgent(recallClass) && !saysUrgent(parts.subject) ? `${URGENT}: ` : '';
  return [
    `${drill ? 'DRILL, NOT TO BE SENT: ' : ''}${urgent}${parts.subject}`,
    `Product: ${parts.product}`,
    `Why, and what can happen: ${parts.hazard}`,
    `Stop: ${parts.stop}`,
    `What to do: ${parts.action}`,
    ...(parts.passOn === null ? [] : [`Tell your customers: ${parts.passOn}`]),
    `How to reply: ${parts.replyTo}`,
  ].join('\n\n');
}

/** Whether a text names a code by itself, not as a part of a longer one: 'F-1' is not named by 'F-12'. */
export function namesCode(text: string, code: string): boolean {
  const inCode = (letter: string | undefined): boolean => letter !== undefined && /[\p{L}\p{N}_/-]/u.test(letter);
  for (let at = text.indexOf(code); at >= 0; at = text.indexOf(code, at + 1)) {
    if (!inCode(text[at - 1]) && !inCode(text[at + code.length])) return true;
  }
  return false;
}
