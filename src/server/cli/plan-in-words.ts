import { isDouble, type Plan, type PlanFound } from '../../../shared/sampling/plan.js';
import type { CheckedQuestion } from '../../../shared/sampling/question.js';
import { stepInWords, tableName } from '../../../shared/sampling/step-in-words.js';

const items = (count: number): string => (count === 1 ? '1 item' : `${count} items`);
const upTo = (count: number, things: string): string => (count === 0 ? `no ${things}` : `${count} or fewer ${things}`);

function taking(plan: Plan, things: string, all: boolean): readonly string[] {
  if (!isDouble(plan)) {
    const what = all ? `Inspect every item. Letter ${plan.letter}` : `Take ${items(plan.n)}: letter ${plan.letter}, n ${plan.n}`;
    return [`${what}, Ac ${plan.ac}, Re ${plan.re}.`, `Accept with ${upTo(plan.ac, things)}, do not accept with ${plan.re} or more.`];
  }
  const { letter, n1, ac1, re1, n2, ac2, re2 } = plan;
  const numbers = `n1 ${n1}, Ac1 ${ac1}, Re1 ${re1}, n2 ${n2}, Ac2 ${ac2}, Re2 ${re2}`;
  const both = `accept with ${upTo(ac2, things)}, do not accept with ${re2} or more.`;
  if (all) return [`Inspect every item. Letter ${letter}, ${numbers}.`, `In all of them, ${both}`];
  const between = re1 - ac1 === 2 ? `${ac1 + 1}` : `${ac1 + 1} to ${re1 - 1}`;
  return [
    `Take ${items(n1)}: letter ${letter}, ${numbers}.`,
    `Accept with ${upTo(ac1, things)}, do not accept with ${re1} or more; with ${between}, take ${items(n2)} more.`,
    `In both samples together, ${both}`,
  ];
}

/** A sampling plan as a person reads it in a terminal. */
export function planInWords(asked: CheckedQuestion, found: PlanFound): string {
  const { lotSize, level, aql, severity, type, basis } = asked;
  const things = basis === 'items' ? 'nonconforming items' : 'nonconformities';
  const unit = basis === 'items' ? 'per cent nonconforming items' : 'nonconformities per 100 items';
  return [
    `${found.edition}, ${type} plan, ${severity} inspection (Table ${tableName(type, severity)})`,
    `Lot of ${items(lotSize)}, level ${level}: code letter ${found.codeLetter}. AQL ${aql} ${unit}.`,
    ...found.arrows.map((one) => `${stepInWords(one, type, severity)}.`),
    ...taking(found.plan, things, found.inspectAll),
    ...(found.inspectAllBecause === null ? [] : [`Every item, because ${found.inspectAllBecause}.`]),
    ...(found.unverified === null ? [] : [`Not verified: ${found.unverified}.`]),
  ].join('\n');
}
