import { Reasons } from '../../../../shared/refusal.js';
import type { Investigation, YieldInvestigated } from './run.facts.js';

/**
 * Explains a figure of a closing that was outside its limits.
 * @see docs/rules/production.md P-34
 */
export function decideExplain(
  run: string,
  asked: { readonly what: Investigation['what']; readonly explanation: string },
  open: readonly { readonly what: string; readonly explanation: string | null }[],
): YieldInvestigated {
  const no = new Reasons();
  const found = open.find((one) => one.what === asked.what);
  if (!found) no.conflict('nothing-to-explain', `the ${asked.what} of ${run} needs no explanation`, { run });
  else if (found.explanation !== null) no.conflict('explained-already', `the ${asked.what} of ${run} is explained already`, { run });
  no.throwIfAny();
  return { kind: 'YieldInvestigated', v: 1, run, what: asked.what, explanation: asked.explanation };
}
