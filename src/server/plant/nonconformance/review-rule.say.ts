import { signedBy } from '../telling/words.facts.js';
import type { ReviewRuleSet } from './review-rule.facts.js';

export const sayReviewRule = {
  ReviewRuleSet: ({ rule, reason, signature }: ReviewRuleSet): string => {
    const lines = Object.entries(rule)
      .map(([kind, { functions, signers }]) => `${kind} by ${signers}, among them ${functions.join(' and ')}`)
      .join('; ');
    return `Review rule set: ${lines}; ${reason}${signedBy(signature)}`;
  },
};
