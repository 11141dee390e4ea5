import { Reasons } from '../../../../shared/refusal.js';
import type { Role } from '../people/people.facts.js';
import type { Signature } from '../people/signature.js';
import type { DispositionKind } from './disposition.facts.js';
import { type ReviewRule, SIGNING_FUNCTIONS } from './review-rule.decide.js';
import type { ReviewRuleSet } from './review-rule.facts.js';

/** What is asked for some kinds of disposition; the others stay as they are. */
interface SetRule {
  readonly rules: readonly { readonly disposition: DispositionKind; readonly functions: readonly Role[]; readonly signers: number }[];
  readonly reason: string;
}

/**
 * Sets the plant's review rule. Nothing is ever disposed of without a signature of quality.
 * @throws Refusal with every fault of every rule
 * @see docs/rules/nonconformance.md NR-23
 */
export function decideSetRule(command: SetRule, current: ReviewRule, signature: Signature): ReviewRuleSet {
  const no = new Reasons();
  const rule: Record<DispositionKind, ReviewRule[DispositionKind]> = { ...current };
  const seen = new Set<DispositionKind>();
  command.rules.forEach(({ disposition, functions, signers }, i) => {
    const pointer = `/rules/${i}`;
    if (seen.has(disposition)) {
      no.conflict('rule-twice', `${disposition} is ruled twice`, { pointer: `${pointer}/disposition` });
    }
    seen.add(disposition);
    checkFunctions(no, disposition, functions, `${pointer}/functions`);
    if (signers < functions.length || signers > SIGNING_FUNCTIONS.length) {
      no.conflict(
        'signers-impossible',
        `${disposition} names ${functions.length} functions: from ${functions.length} to ${SIGNING_FUNCTIONS.length} can sign, each for another one`,
        { pointer: `${pointer}/signers` },
      );
    }
    rule[disposition] = { functions, signers };
  });
  no.throwIfAny();
  return { kind: 'ReviewRuleSet', v: 1, rule, reason: command.reason, signature };
}

function checkFunctions(no: Reasons, disposition: DispositionKind, functions: readonly Role[], pointer: string): void {
  if (!functions.includes('quality')) {
    no.conflict('quality-must-sign', `${disposition} waits for quality at least`, { pointer });
  }
  functions.forEach((one, i) => {
    if (!SIGNING_FUNCTIONS.includes(one)) {
      no.conflict('function-signs-nothing', `${one} signs no disposition`, { pointer: `${pointer}/${i}` });
    }
    if (functions.indexOf(one) !== i) no.conflict('function-twice', `${one} is named twice`, { pointer: `${pointer}/${i}` });
  });
}
