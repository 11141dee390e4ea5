import { MICRO } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { unionSpans } from '../../../../shared/spans.js';
import type { LinkGroup, LinkMade, LinkVoided } from '../stock/effects.facts.js';
import { type AskCharge, chargeAll, type ChargingState } from './charging.decide.js';
import { checkNeeded } from './closing.decide.js';
import { checkCoverage } from './coverage.decide.js';
import type { Changeover, RunCorrected } from './run.facts.js';
import { runLinks } from './run-links.decide.js';
import { asCharged, type RunState } from './run-state.facts.js';
import { withoutMoved } from './taken.decide.js';
import { type AskReturn, returnAll } from './uncharging.decide.js';

/** A link of the run as it stands. */
export interface StandingLink extends LinkMade, LinkVoided {
  readonly at: string;
}

interface CorrectRun {
  readonly corrects: number;
  readonly reason: string;
  readonly returns: readonly AskReturn[];
  readonly charges: readonly AskCharge[];
  /** All changeovers of the run as they are now known; left out: unchanged. */
  readonly changeovers?: readonly Changeover[] | undefined;
}

interface CorrectingState extends ChargingState {
  readonly known: ReadonlySet<string>;
  readonly vessels: ReadonlyMap<string, string | null>;
  readonly standing: readonly StandingLink[];
  /** Entries of the run, any of which may be corrected. */
  readonly entries: readonly number[];
}

/**
 * Puts the record of a closed run right. What was charged in error goes back to stock, what was charged and not recorded is taken now, the
 * genealogy is worked out anew, and the difference is voided and recorded. Both stay readable.
 * @see docs/rules/production.md P-33, P-50 to P-53
 */
export function decideCorrectRun(command: CorrectRun, state: CorrectingState): RunCorrected {
  const no = new Reasons();
  checkCorrects(no, command, state);
  const back = returnAll(no, command.returns, state);
  const lots = new Map([...state.lots].map(([code, lot]) => [code, withReturned(lot, back.moved)]));
  const asks = command.charges.map((ask) => ({ ...ask, deviationReason: ask.deviationReason ?? command.reason }));
  const late = chargeAll(no, asks, { ...state, lots, run: { ...state.run, charges: back.charges } });
  const changeovers = command.changeovers ?? [...state.run.changeovers, ...late.changeovers];
  const run: RunState = { ...state.run, charges: [...back.charges, ...late.charges.map((charge) => asCharged(charge))], changeovers };
  if (run.yields?.pieces) checkCoverage(no, run, run.yields.pieces);
  // What is refused already is short of its components for that reason alone.
  if (run.yields?.pieces && !no.any) checkNeeded(no, run, run.yields.pieces * MICRO);
  no.throwIfAny();
  const { voided, linked } = difference(state.standing, runLinks(run, run.yields!, run.finishedAt!));
  if (voided.length + linked.length + back.returns.length + late.charges.length === 0) {
    no.conflict('nothing-changed', 'the record already says that', { run: run.run });
    no.throwIfAny();
  }
  return {
    kind: 'RunCorrected',
    v: 1,
    run: run.run,
    corrects: command.corrects,
    reason: command.reason,
    returns: back.returns,
    charges: late.charges,
    changeovers: command.changeovers === undefined && late.changeovers.length === 0 ? null : changeovers,
    moved: [...back.moved, ...(late.moved ?? [])],
    voided,
    linked,
  };
}

function checkCorrects(no: Reasons, command: CorrectRun, { run, entries }: CorrectingState): void {
  if (run.closedSeq === null)
    no.conflict('run-open', `${run.run} is still running: charge, return or change over instead`, { run: run.run });
  else if (run.yields === null) no.conflict('nothing-yielded', `${run.run} yielded no lot`, { run: run.run });
  if (!entries.includes(command.corrects)) {
    no.unknown('entry-not-of-run', `entry ${command.corrects} is not about ${run.run}`, { pointer: '/corrects' });
  }
  no.throwIfAny();
}

/** What goes back is there to be taken again by the same correction. */
function withReturned<Lot extends Parameters<typeof withoutMoved>[0]>(lot: Lot, moved: Parameters<typeof withoutMoved>[1]): Lot {
  const own = moved.filter((movement) => movement.lot === lot.lot);
  if (own.length === 0) return lot;
  const left = withoutMoved(lot, own);
  const places = [...left.places];
  for (const { to, spans, quantityMicro } of own) {
    const i = places.findIndex((part) => part.place.fate === to.fate && part.place.at === to.at);
    const here = i < 0 ? { place: to, quantityMicro: 0, spans: spans === null ? null : [] } : places[i]!;
    const more = {
      place: to,
      quantityMicro: here.quantityMicro + quantityMicro,
      spans: here.spans === null ? null : unionSpans(here.spans, spans ?? []),
    };
    if (i < 0) places.push(more);
    else places[i] = more;
  }
  return { ...lot, places };
}

const keyOf = (link: LinkMade, at: string): string =>
  JSON.stringify([at, link.from, link.fromSpan, link.to, link.toSpan, link.quantityMicro, link.massMicro, link.map]);

/** What stands and should not, and what should stand and does not; equal links are left alone, one for one. */
function difference(standing: readonly StandingLink[], wanted: readonly LinkGroup[]): { voided: LinkVoided[]; linked: LinkGroup[] } {
  const left = new Map<string, StandingLink[]>();
  for (const link of standing) left.set(keyOf(link, link.at), [...(left.get(keyOf(link, link.at)) ?? []), link]);
  const linked = wanted.map((group) => ({
    ...group,
    links: group.links.filter((link) => left.get(keyOf(link, group.at))?.shift() === undefined),
  }));
  const voided = [...left.values()].flat().map(({ seq, ord }) => ({ seq, ord }));
  return {
    voided: voided.toSorted((a, b) => a.seq - b.seq || a.ord - b.ord),
    linked: linked.filter((group) => group.links.length > 0),
  };
}
