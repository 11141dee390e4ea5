import { MICRO, mulDivMicro, parseQuantity } from '../../../shared/quantity.js';
import { msOf } from '../app/clock.js';
import { amountOf, type Run } from './run.js';

/** What a run wants of one item: a step of its recipe, or a line of its bill of materials. In millionths of `unit`. */
export interface Want {
  /** Step of the recipe, counted from 1; null for a line of a bill of materials. */
  readonly step: number | null;
  readonly item: string;
  readonly name: string;
  readonly unit: string;
  /** Null where nothing says how much: a bill of materials without a planned number. */
  readonly targetMicro: number | null;
  readonly lowMicro: number | null;
  readonly highMicro: number | null;
  readonly chargedMicro: number;
  readonly mixMinutes: number;
  /** Every unit has pieces of its own of it, by serial. */
  readonly bySerial: boolean;
}

/** Everything the recipe or the bill of materials asks for, in its order: for what is planned, and once it is closed for what was made. */
export function wantsOf(run: Run): Want[] {
  const steps = run.steps.map((step): Want => ({
    step: step.step,
    item: step.item,
    name: step.name,
    unit: step.unit,
    targetMicro: parseQuantity(step.target),
    lowMicro: parseQuantity(step.low),
    highMicro: parseQuantity(step.high),
    chargedMicro: parseQuantity(step.charged),
    mixMinutes: step.mixMinutes,
    bySerial: false,
  }));
  const made = run.yields?.quantity ?? run.planned;
  const plannedMicro = made === null ? null : parseQuantity(made);
  const components = run.components.map((line): Want => {
    const needed = plannedMicro === null ? null : mulDivMicro(plannedMicro, parseQuantity(line.perPiece), MICRO);
    return {
      step: null,
      item: line.item,
      name: line.name,
      unit: line.unit,
      targetMicro: needed,
      lowMicro: needed,
      highMicro: null,
      chargedMicro: parseQuantity(line.charged),
      mixMinutes: 0,
      bySerial: line.trackedBy === 'serial',
    };
  });
  return [...steps, ...components];
}

/** How far a want is. Nothing planned counts as met once there is some of it. */
export type Reached = 'none' | 'short' | 'in' | 'over';
export function reached({ chargedMicro, lowMicro, highMicro }: Want): Reached {
  if (highMicro !== null && chargedMicro > highMicro) return 'over';
  if (chargedMicro === 0) return 'none';
  return chargedMicro < (lowMicro ?? 0) ? 'short' : 'in';
}

export const leftMicro = ({ targetMicro, chargedMicro }: Want): number => Math.max(0, (targetMicro ?? 0) - chargedMicro);

/** The first thing that still wants some; null once everything has enough. */
export const nextWant = (run: Run): Want | null =>
  wantsOf(run).find((want) => {
    const how = reached(want);
    return how === 'none' || how === 'short';
  }) ?? null;

/** The want that a lot of this item would go to: the first that wants some, else the last of that item. */
export function wantOf(run: Run, item: string): Want | null {
  const ofItem = wantsOf(run).filter((want) => want.item === item);
  return ofItem.find((want) => ['none', 'short'].includes(reached(want))) ?? ofItem.at(-1) ?? null;
}

/** In, short or over, in words. */
export function reachedInWords(want: Want): string {
  const { chargedMicro, lowMicro, highMicro, unit, targetMicro } = want;
  const how = reached(want);
  if (how === 'none') return 'nothing charged yet';
  if (how === 'over') return `${amountOf(chargedMicro - (highMicro ?? 0), unit)} over the most allowed`;
  if (how === 'short') return `${amountOf((lowMicro ?? 0) - chargedMicro, unit)} short of the least`;
  if (highMicro === null) {
    const over = chargedMicro - (targetMicro ?? chargedMicro);
    return targetMicro === null
      ? `${amountOf(chargedMicro, unit)} charged`
      : over === 0
        ? 'as many as needed'
        : `enough, ${amountOf(over, unit)} more`;
  }
  return 'within its tolerance';
}

/** What mixes now: the step charged last, since when and until when, in milliseconds since 1970. */
export interface Mixing {
  readonly step: number;
  readonly item: string;
  readonly name: string;
  readonly minutes: number;
  readonly since: number;
  readonly until: number;
}

const MINUTE = 60_000;

/**
 * The shortest time that runs, from what was recorded: the same after a reload and on every tablet. The charge that came last counts, as
 * it does for the server; what went back altogether does not.
 */
export function mixingNow(run: Run): Mixing | null {
  const last = run.charges
    .filter(({ step, quantity }) => step !== null && parseQuantity(quantity) > 0)
    .toSorted((a, b) => (a.chargedAt === b.chargedAt ? a.charge - b.charge : a.chargedAt < b.chargedAt ? -1 : 1))
    .at(-1);
  const step = run.steps.find((one) => one.step === last?.step);
  if (last === undefined || step === undefined || step.mixMinutes === 0) return null;
  const since = msOf(last.chargedAt);
  return { step: step.step, item: step.item, name: step.name, minutes: step.mixMinutes, since, until: since + step.mixMinutes * MINUTE };
}
