import { formatQuantity } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { formatSpans, intersectSpans, type SpanSet, subtractSpans, unionSpans } from '../../../../shared/spans.js';
import { checkFiles } from '../files/files.decide.js';
import type { InspectionOpened } from '../inspection/inspection.facts.js';
import type { Effects, Movement } from '../stock/effects.facts.js';
import type { LotState } from '../stock/lot-state.facts.js';
import { regradedInto, type RegradeInto, returnedBy, scrappedBy } from './away.decide.js';
import { begun } from './disposition.decide.js';
import type { DispositionCarriedOut, Evidence } from './disposition.facts.js';
import type { AffectedPart } from './nonconformance.facts.js';
import { type Freed, type HoldChange, type HoldsState, letGo, placed } from './outcome-holds.decide.js';
import type { Disposition } from './report-state.facts.js';
import { checkWorked, inspectAgain, type InspectAgain, type Worked } from './rework.decide.js';
import { type DecisionState, lacksOf, settled } from './settle.decide.js';

/** A part of a sorted part: pieces, or a quantity. */
export interface Sorted {
  readonly pieces?: SpanSet | undefined;
  readonly quantityMicro?: number | undefined;
}

export interface CarryOut {
  readonly disposition: number;
  readonly evidence: Evidence;
  readonly sorted?: { readonly conforming?: Sorted | undefined; readonly nonconforming?: Sorted | undefined } | undefined;
}

export interface CarryOutState extends DecisionState {
  readonly on: string;
  readonly lot: LotState;
  readonly outcome: HoldsState;
  readonly knownFiles: ReadonlySet<string>;
  /** Rework, repair: the run that is named. */
  readonly worked?: Worked | undefined;
  /** Rework, repair: what would be inspected, worked on in place or as the lot it went into. */
  readonly again?: { readonly inPlace: InspectAgain; readonly asLot: InspectAgain | null } | undefined;
  /** Regrade. */
  readonly regrade?: RegradeInto | undefined;
}

/** What carrying out a disposition comes to, beside the words. */
interface Outcome {
  readonly effects?: Effects;
  readonly sorted?: DispositionCarriedOut['sorted'];
  readonly opens?: string | null;
  readonly becomes?: string | null;
  readonly holds?: readonly HoldChange[];
  /** Concession: the hold that marks what is under it. */
  readonly hold?: string | null;
  readonly opened?: InspectionOpened | null;
}

/**
 * Records that a signed disposition was carried out, with what it does to the pieces and to the report's holds.
 * @returns holds first, so that what was held is let go before it moves
 * @throws Refusal with everything that is lacking
 * @see docs/rules/nonconformance.md NR-30 to NR-34
 */
export function decideCarryOut(
  command: CarryOut,
  state: CarryOutState,
): readonly (HoldChange | DispositionCarriedOut | InspectionOpened)[] {
  const no = new Reasons();
  const { report } = state;
  const one = begun(no, report, command.disposition, ['reviewed', 'dispositioned']);
  const at = { report: report.report, disposition: one.disposition };
  if (one.carriedOut !== null) {
    no.conflict('carried-out-already', `disposition ${one.disposition} of ${report.report} is carried out`, at);
  }
  for (const what of one.withdrawn === null ? lacksOf(one, report, state.signing) : []) {
    no.conflict('signature-lacking', `disposition ${one.disposition} of ${report.report} lacks ${what}`, at);
  }
  checkFiles(no, command.evidence.files, state.knownFiles, '/files');
  checkGiven(no, command, one);
  const outcome = one.carriedOut === null ? outcomeOf(no, command, one, state) : {};
  no.throwIfAny();
  const fact: DispositionCarriedOut = {
    kind: 'DispositionCarriedOut',
    v: 1,
    report: report.report,
    state: report.state,
    disposition: one.disposition,
    evidence: command.evidence,
    sorted: outcome.sorted ?? null,
    opens: outcome.opens ?? null,
    becomes: outcome.becomes ?? null,
    hold: outcome.hold ?? null,
    ...outcome.effects,
  };
  return [...(outcome.holds ?? []), settled(fact, state), ...(outcome.opened ? [outcome.opened] : [])];
}

const PAPER: readonly string[] = ['scrap', 'return-to-supplier'];

function checkGiven(no: Reasons, { evidence, sorted }: CarryOut, { terms: { kind } }: Disposition): void {
  if (PAPER.includes(kind) && evidence.document === null) {
    no.malformed('document-missing', `which document shows the ${kind === 'scrap' ? 'scrapping' : 'return'}?`, { pointer: '/document' });
  }
  if (evidence.run !== null && kind !== 'rework' && kind !== 'repair') {
    no.conflict('not-of-this-kind', `a run says nothing about a ${kind}: leave it out`, { pointer: '/run' });
  }
  if (sorted !== undefined && kind !== 'sort') {
    no.conflict('not-of-this-kind', `sorted says nothing about a ${kind}: leave it out`, { pointer: '/sorted' });
  }
}

function outcomeOf(no: Reasons, command: CarryOut, one: Disposition, state: CarryOutState): Outcome {
  const { kind, part } = one.terms;
  const { lot, report } = state;
  switch (kind) {
    case 'scrap':
      return takenOut({ moved: scrappedBy(no, lot, part, report.report) }, one, state);
    case 'return-to-supplier':
      return takenOut({ moved: returnedBy(no, lot, part, report.report) }, one, state);
    case 'regrade': {
      const made = regradedInto(no, lot, part, state.regrade!);
      if (made === null) return {};
      const { born, moved, linked } = made;
      return { ...takenOut({ born: [born], moved, linked }, one, state), becomes: born.lot };
    }
    case 'concession':
      return underConcession(no, one, state);
    case 'sort':
      return sortedInto(no, command, one, state);
    default:
      return reworked(no, command, one, state);
  }
}

/** What was taken out of a bulk lot is no longer kept back there. */
const takenOut = (effects: Effects, one: Disposition, state: CarryOutState): Outcome => ({
  effects,
  holds: letGo(
    {
      parts: [{ ...one.terms.part, onHandMicro: fromHere(effects.moved ?? []) }],
      quantitiesOnly: true,
      reason: reasonOf(one, state, 'was carried out'),
    },
    state.outcome,
  ),
});

const fromHere = (moved: readonly Movement[]): number =>
  moved.filter(({ from }) => from.fate === 'on-hand').reduce((sum, movement) => sum + movement.quantityMicro, 0);

const reasonOf = (one: Disposition, { report }: CarryOutState, what: string): string =>
  `disposition ${one.disposition} (${one.terms.kind}) of ${report.report} ${what}`;

/** A hold of its own marks what is under a concession; it reaches nothing, for what is made from it is let go too. */
function underConcession(no: Reasons, one: Disposition, state: CarryOutState): Outcome {
  const { part, concession } = one.terms;
  if (concession!.until < state.on) {
    no.conflict('concession-expired', `the concession ended on ${concession!.until}`, { disposition: one.disposition });
    return {};
  }
  const freed = letGo({ parts: [part], reason: reasonOf(one, state, 'is in force') }, state.outcome);
  const used = freed.filter((change) => change.kind === 'HoldPlacedByRule').length;
  const mark = placed(
    {
      parts: [part],
      reaches: false,
      reason: `under the concession ${concession!.reference} of ${concession!.authorisedBy} until ${concession!.until}, ${state.report.report}`,
      owner: state.actor,
    },
    state.outcome.numbers.slice(used),
    state.report.report,
  );
  return { holds: [...freed, mark], hold: mark.hold };
}

function sortedInto(no: Reasons, { sorted }: CarryOut, one: Disposition, state: CarryOutState): Outcome {
  const { part } = one.terms;
  const { conforming, nonconforming } = sorted ?? {};
  if (conforming === undefined && nonconforming === undefined) {
    no.malformed('sorting-missing', 'what conforms, and what does not?', { pointer: '/sorted' });
    return {};
  }
  const good = sidesPart(no, part, conforming, '/sorted/conforming');
  const bad = sidesPart(no, part, nonconforming, '/sorted/nonconforming');
  if (!good.known || !bad.known) return {};
  if (!partitions(no, part, good.part, bad.part)) return {};
  const freed: readonly Freed[] = good.part === null ? [] : [good.part];
  return {
    sorted: { conforming: good.part, nonconforming: bad.part },
    holds: letGo({ parts: freed, reason: reasonOf(one, state, 'found it to conform') }, state.outcome),
  };
}

type Side = { readonly known: boolean; readonly part: AffectedPart | null };

function sidesPart(no: Reasons, { lot, spans }: AffectedPart, side: Sorted | undefined, pointer: string): Side {
  if (side === undefined) return { known: true, part: null };
  if (spans === null) {
    if (side.pieces !== undefined) {
      no.conflict('no-pieces-here', `${lot} is bulk and has no pieces: give a quantity`, { pointer: `${pointer}/pieces`, lot });
    } else if (side.quantityMicro === undefined) {
      no.malformed('quantity-missing', `how much of ${lot}?`, { pointer: `${pointer}/quantity` });
    } else if (side.quantityMicro < 0) {
      no.malformed('quantity-not-positive', 'a quantity is more than nothing', { pointer: `${pointer}/quantity` });
    } else {
      return { known: true, part: side.quantityMicro === 0 ? null : { lot, spans: null, quantityMicro: side.quantityMicro } };
    }
    return { known: false, part: null };
  }
  if (side.quantityMicro !== undefined) {
    no.conflict('pieces-not-quantity', `${lot} has numbered pieces: say which, not how many`, { pointer: `${pointer}/quantity`, lot });
    return { known: false, part: null };
  }
  if (side.pieces === undefined) {
    no.malformed('pieces-missing', `which pieces of ${lot}?`, { pointer: `${pointer}/pieces` });
    return { known: false, part: null };
  }
  return { known: true, part: { lot, spans: side.pieces, quantityMicro: null } };
}

/** Every item was looked at: what conforms and what does not are together all of the part, and nothing twice. */
function partitions(no: Reasons, part: AffectedPart, good: AffectedPart | null, bad: AffectedPart | null): boolean {
  const at = { pointer: '/sorted', lot: part.lot };
  if (part.spans === null) {
    const sum = (good?.quantityMicro ?? 0) + (bad?.quantityMicro ?? 0);
    if (sum === part.quantityMicro) return true;
    no.conflict('sorted-not-whole', `${formatQuantity(part.quantityMicro ?? 0)} were to be sorted, not ${formatQuantity(sum)}`, at);
    return false;
  }
  const [conform, fail] = [good?.spans ?? [], bad?.spans ?? []];
  const twice = intersectSpans(conform, fail);
  const both = unionSpans(conform, fail);
  const missing = subtractSpans(part.spans, both);
  const outside = subtractSpans(both, part.spans);
  if (twice.length > 0) no.conflict('sorted-not-whole', `pieces ${formatSpans(twice)} cannot both conform and not`, at);
  if (missing.length > 0) no.conflict('sorted-not-whole', `nothing is said about pieces ${formatSpans(missing)}`, at);
  if (outside.length > 0) no.conflict('sorted-not-whole', `pieces ${formatSpans(outside)} were not to be sorted`, at);
  return twice.length + missing.length + outside.length === 0;
}

function reworked(no: Reasons, { evidence }: CarryOut, one: Disposition, state: CarryOutState): Outcome {
  const { part } = one.terms;
  const signedSeq = one.signatures.filter((signature) => signature.fact.complete).at(-1)?.seq ?? Number.MAX_SAFE_INTEGER;
  const done = checkWorked(no, part, state.worked, evidence.run, signedSeq);
  if (done === null) return {};
  const look = inspectAgain(no, done.becomes === null ? state.again!.inPlace : state.again!.asLot!);
  if (look === null) return {};
  const taken = done.becomes === null ? [] : takenHolds(one, state);
  return { opens: look.opens, opened: look.fact, becomes: done.becomes, holds: [...taken, ...heldAsLot(done.becomes, taken, one, state)] };
}

/** What went into a rework run is no longer kept back as a quantity of the lot it came from. */
const takenHolds = (one: Disposition, state: CarryOutState): HoldChange[] =>
  letGo({ parts: [one.terms.part], quantitiesOnly: true, reason: reasonOf(one, state, 'was carried out') }, state.outcome);

/** The lot that reworked pieces went into stays held until it is verified, whether or not the old hold reaches it. */
function heldAsLot(becomes: string | null, taken: readonly HoldChange[], one: Disposition, state: CarryOutState): HoldChange[] {
  if (becomes === null || state.outcome.held.some((row) => row.lot === becomes)) return [];
  const used = taken.filter((change) => change.kind === 'HoldPlacedByRule').length;
  const { part } = state.again!.asLot!;
  return [
    placed(
      {
        parts: [{ lot: becomes, spans: part.spans, quantityMicro: null }],
        reaches: true,
        reason: reasonOf(one, state, 'waits for its inspection'),
        owner: state.actor,
      },
      state.outcome.numbers.slice(used),
      state.report.report,
    ),
  ];
}
