import { amountOf, type Run } from './run.js';
import { mixingNow, reached, type Want, wantsOf } from './wants.js';

/**
 * What would be otherwise than the recipe says if this were charged now, before anything is sent. The server decides; this only saves an
 * operator a refusal. @see docs/rules/production.md P-9 to P-12
 */
export function deviationsAhead(run: Run, asked: { item: string; want: Want | null; quantityMicro: number; nowMs: number }): string[] {
  if (run.steps.length === 0 && run.components.length === 0) return [];
  const { want, quantityMicro } = asked;
  if (want === null) return [`${asked.item} is not in ${run.recipe ?? run.bom ?? 'the recipe'}`];
  if (want.step === null) return [];
  const { step } = want;
  const steps = wantsOf(run);
  const after = steps.find((one) => (one.step ?? 0) > step && one.chargedMicro > 0);
  const before = steps.filter((one) => (one.step ?? 0) < step && ['none', 'short'].includes(reached(one)));
  const sum = want.chargedMicro + quantityMicro;
  const mixing = mixingNow(run);
  return [
    ...(after ? [`step ${after.step} (${after.name}) is charged already, and comes after this one`] : []),
    ...before.map((one) => `step ${one.step} (${one.name}) comes first and is short`),
    ...(want.highMicro !== null && sum > want.highMicro
      ? [`step ${step} would have ${amountOf(sum, want.unit)}, at most ${amountOf(want.highMicro, want.unit)} are allowed`]
      : []),
    ...(mixing && mixing.step !== step && mixing.until > asked.nowMs
      ? [`${mixing.name} has not mixed for its ${mixing.minutes} minutes yet`]
      : []),
  ];
}

/** What would be otherwise than the recipe says if the run were closed now. @see docs/rules/production.md P-10, P-11 */
export function closingDeviationsAhead(run: Run, nowMs: number): string[] {
  const mixing = mixingNow(run);
  return [
    ...wantsOf(run)
      .filter((want) => want.step !== null && ['none', 'short'].includes(reached(want)))
      .map((want) => `step ${want.step} (${want.name}) is short`),
    ...(mixing && mixing.until > nowMs ? [`${mixing.name} has not mixed for its ${mixing.minutes} minutes yet`] : []),
  ];
}
