import { MICRO } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { afterLot, type LotOutcome } from '../../../../shared/sampling/switching.js';
import { wouldAcceptOneStepTighter } from '../../../../shared/sampling/switching-score.js';
import { type Span, spanSet } from '../../../../shared/spans.js';
import type { HeldPart, HoldPlacedByRule } from '../holds/holds.facts.js';
import type { Unit } from '../stock/effects.facts.js';
import type { SwitchingByClass } from './begin.decide.js';
import type { ClassOutcome, ClassPlan, InspectionDecided, SamplePlan, Switched, Verdict } from './inspection.facts.js';
import type { InspectionState } from './inspection-state.facts.js';
import { type ClassStanding, judge, type Judgement } from './judge.decide.js';
import { checkOpen } from './tally.decide.js';

/** A verdict; `stricter` is the reason of a person who does not accept what the plan would. */
export interface Decide {
  readonly stricter?: string | undefined;
}

interface VerdictState {
  readonly inspection: InspectionState;
  readonly switching: SwitchingByClass;
  readonly unit: Unit;
  /** The next number for a hold, and who would own it. */
  readonly hold: string;
  readonly inspector: string;
  /** An open hold that a critical finding of this inspection has placed already. */
  readonly heldAlready: boolean;
}

/**
 * Closes an inspection with the verdict its plan gives, or a stricter one; never a laxer one. What is not accepted is stopped at once, and so
 * are the nonconforming items of a lot that is accepted.
 * @throws Refusal naming everything that is still to be looked at
 * @see docs/rules/inspection.md IN-14 to IN-16, IN-21, IN-22
 */
export function decideVerdict(command: Decide, state: VerdictState): readonly (InspectionDecided | HoldPlacedByRule)[] {
  const no = new Reasons();
  const { inspection } = state;
  checkOpen(no, inspection);
  const judged = judge({ ...inspection, characteristics: inspection.plan.characteristics });
  const stricter = command.stricter ?? null;
  if (judged.verdict === null && stricter === null) refuseIncomplete(no, inspection, judged);
  if (judged.verdict === 'not-accepted' && stricter !== null) {
    no.conflict('not-accepted-anyway', 'the plan does not accept it: a reason for being stricter is not needed', { pointer: '/stricter' });
  }
  no.throwIfAny();
  const decided = decidedOf(inspection, judged, stricter, state.switching);
  const hold = holdOf(decided, judged, state);
  return hold === null ? [decided] : [decided, hold];
}

function refuseIncomplete(no: Reasons, { inspection }: InspectionState, { toInspect, secondSample, missing }: Judgement): void {
  if (toInspect > 0) {
    const which = secondSample ? ' of both samples' : '';
    no.conflict('inspection-incomplete', `${toInspect} items${which} are still to be inspected`, { inspection, left: toInspect });
  }
  for (const what of missing) no.conflict('inspection-incomplete', what, { inspection });
}

function decidedOf(
  inspection: InspectionState,
  judged: Judgement,
  stricter: string | null,
  switching: SwitchingByClass,
): InspectionDecided {
  const { sample } = inspection;
  return {
    kind: 'InspectionDecided',
    v: 1,
    inspection: inspection.inspection,
    lot: inspection.lot,
    item: inspection.item,
    supplier: inspection.supplier,
    verdict: stricter === null ? judged.verdict! : 'not-accepted',
    computed: judged.verdict,
    stricter,
    classes: judged.classes.map(outcomeOf),
    failed: judged.failed,
    inspected: judged.inspected[0] + judged.inspected[1],
    nonconforming: judged.nonconforming,
    curtailed: judged.toInspect > 0 || judged.missing.length > 0,
    switched: sample === null ? [] : sample.classes.flatMap((plan) => switchedBy(plan, sample, inspection, judged, switching)),
  };
}

const outcomeOf = ({ class: of, found, standing, because }: ClassStanding): ClassOutcome => ({
  class: of,
  found,
  verdict: isVerdict(standing) ? standing : null,
  because,
});

const isVerdict = (standing: ClassStanding['standing']): standing is Verdict => standing === 'accepted' || standing === 'not-accepted';

/** `single II 1.0 items`: a history belongs to one plan, and a changed plan begins a new one. */
export const planKey = ({ type, level, basis }: Pick<SamplePlan, 'type' | 'level' | 'basis'>, aql: string): string =>
  `${type} ${level} ${aql} ${basis}`;

/** Only lots inspected for the first time count (9.3), and of them the classes that were inspected to the end. */
function switchedBy(
  plan: ClassPlan,
  sample: SamplePlan,
  { occasion }: InspectionState,
  { classes }: Judgement,
  switching: SwitchingByClass,
): Switched[] {
  const standing = classes.find((one) => one.class === plan.class)!;
  const original = occasion === 'delivery' || occasion === 'run';
  if (!original || !isVerdict(standing.standing)) return [];
  const before = switching.get(plan.class)!;
  const { state: after, reasons } = afterLot(before, lotOutcome(plan, standing, standing.standing === 'accepted'));
  return [{ class: plan.class, plan: planKey(sample, plan.aql), before, after, because: reasons }];
}

function lotOutcome({ plan, severity }: ClassPlan, { found }: ClassStanding, accepted: boolean): LotOutcome {
  if ('n1' in plan) return { type: 'double', severity, accepted, acceptedOnFirstSample: accepted && found[0] <= plan.ac1 };
  return { type: 'single', severity, accepted, ac: plan.ac, wouldAcceptOneStepTighter: wouldAcceptOneStepTighter(plan.ac, found[0]) };
}

/** What is not accepted is stopped whole, with all made from it; of an accepted lot the nonconforming items that were found. */
function holdOf(decided: InspectionDecided, judged: Judgement, state: VerdictState): HoldPlacedByRule | null {
  const { inspection, unit, hold, inspector } = state;
  const by = { kind: 'HoldPlacedByRule', v: 1, hold, owner: inspector, inspection: inspection.inspection, report: null } as const;
  if (decided.verdict === 'not-accepted') {
    if (state.heldAlready) return null;
    const why =
      decided.stricter ??
      [...judged.classes.filter((one) => one.standing === 'not-accepted').map((one) => one.because), ...judged.failed].join('; ');
    const whole: HeldPart = { lot: inspection.lot, spans: inspection.spans, quantityMicro: null };
    return { ...by, parts: [whole], reaches: true, reason: `not accepted at inspection ${inspection.inspection}: ${why}` };
  }
  const part = nonconformingPart(inspection, unit);
  if (part === null) return null;
  return { ...by, parts: [part], reaches: false, reason: `found nonconforming at inspection ${inspection.inspection}` };
}

function nonconformingPart({ lot, spans, tallies }: InspectionState, unit: Unit): HeldPart | null {
  const items = tallies.flatMap((tally) => tally.items).filter((item) => item.found.length > 0);
  if (spans === null) {
    return unit === 'each' && items.length > 0 ? { lot, spans: null, quantityMicro: items.length * MICRO } : null;
  }
  const pieces = items.flatMap((item): Span[] => (item.piece === null ? [] : [[item.piece, item.piece]]));
  return pieces.length === 0 ? null : { lot, spans: spanSet(pieces), quantityMicro: null };
}

/** A critical nonconformity stops the lot as soon as it is written down (domain rule 8). */
export function criticalHold(
  { inspection, lot, spans }: InspectionState,
  { hold, inspector }: Pick<VerdictState, 'hold' | 'inspector'>,
): HoldPlacedByRule {
  return {
    kind: 'HoldPlacedByRule',
    v: 1,
    hold,
    parts: [{ lot, spans, quantityMicro: null }],
    reaches: true,
    reason: `critical nonconformity found at inspection ${inspection}`,
    owner: inspector,
    inspection,
    report: null,
  };
}
