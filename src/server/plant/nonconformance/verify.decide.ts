import { Reasons } from '../../../../shared/refusal.js';
import { formatSpans, type SpanSet, subtractSpans, wholeLot } from '../../../../shared/spans.js';
import type { Verdict } from '../inspection/inspection.facts.js';
import type { InspectionState } from '../inspection/inspection-state.facts.js';
import { type LotInspection, standingOver } from '../inspection/standing.decide.js';
import { heldAt, type LotState } from '../stock/lot-state.facts.js';
import { begun } from './disposition.decide.js';
import type { DispositionVerified } from './disposition.facts.js';
import { needsVerification } from './needs.decide.js';
import { type HoldChange, type HoldsState, letGo } from './outcome-holds.decide.js';
import { type DecisionState, settled } from './settle.decide.js';

/** The inspection that is said to verify. */
export interface Verifying {
  readonly inspection: string;
  readonly lot: string;
  readonly spans: SpanSet | null;
  readonly state: InspectionState['state'];
  readonly verdict: Verdict | null;
  readonly openedSeq: number;
}

export interface VerifyState extends DecisionState {
  readonly inspection: Verifying | undefined;
  /** The lot the pieces are of now. */
  readonly lot: LotState;
  /** Every inspection of that lot, in the order they were opened. */
  readonly inspections: readonly LotInspection[];
  readonly outcome: HoldsState;
}

/**
 * Verifies a rework or repair by an inspection opened after it that accepted every piece that is left of it. What was refused is dealt with in a
 * report of its own; once nothing is left, the inspection that refused it has said all there is.
 * @throws Refusal with everything that stands against it
 * @see docs/rules/nonconformance.md NR-31, NR-34
 */
export function decideVerify(
  command: { readonly disposition: number; readonly inspection: string },
  state: VerifyState,
): readonly (HoldChange | DispositionVerified)[] {
  const no = new Reasons();
  const { report, inspection } = state;
  const one = begun(no, report, command.disposition, ['reviewed', 'dispositioned', 'carried-out', 'verified']);
  const at = { report: report.report, disposition: one.disposition };
  if (!needsVerification(one.terms.kind)) {
    no.conflict('nothing-to-verify', `a ${one.terms.kind} waits for no inspection`, at);
  } else if (one.carriedOut === null) {
    no.conflict('not-carried-out', `disposition ${one.disposition} of ${report.report} (${one.terms.kind}) is not carried out`, at);
  } else if (one.verifiedBy !== null) {
    no.conflict('verified-already', `disposition ${one.disposition} of ${report.report} was verified by ${one.verifiedBy}`, at);
  }
  if (!inspection) no.unknown('inspection-unknown', `no inspection ${command.inspection}`, { pointer: '/inspection' });
  if (inspection && one.carriedOut !== null) {
    const { opens, becomes } = one.carriedOut.fact;
    // A lot that the pieces went into was never inspected before the work.
    const after = becomes === inspection.lot || inspection.inspection === opens || inspection.openedSeq > one.carriedOut.seq;
    checkAccepts(
      no,
      inspection,
      { lot: becomes ?? one.terms.part.lot, after, spans: becomes === null ? one.terms.part.spans : null },
      state,
    );
  }
  no.throwIfAny();
  const { becomes } = one.carriedOut!.fact;
  const reason = `disposition ${one.disposition} (${one.terms.kind}) of ${report.report} was verified by ${command.inspection}`;
  const parts = [
    { ...one.terms.part, onHandMicro: becomes === null ? undefined : 0 },
    ...(becomes === null ? [] : [{ lot: becomes, spans: null, quantityMicro: null }]),
  ];
  const fact: DispositionVerified = {
    kind: 'DispositionVerified',
    v: 1,
    report: report.report,
    state: report.state,
    disposition: one.disposition,
    inspection: command.inspection,
  };
  const except = becomes === null ? [] : [becomes];
  return [...letGo({ parts, reason, except }, state.outcome), settled(fact, state)];
}

interface Wanted {
  readonly lot: string;
  /** Null: all of the lot. */
  readonly spans: SpanSet | null;
  /** Whether the inspection was opened after the work. */
  readonly after: boolean;
}

function checkAccepts(no: Reasons, one: Verifying, { lot, spans, after }: Wanted, state: VerifyState): void {
  const at = { pointer: '/inspection', inspection: one.inspection };
  if (!after) no.conflict('inspected-before', `${one.inspection} was opened before the work: what it found counts no more`, at);
  if (one.lot !== lot) {
    no.conflict('inspects-other-pieces', `${one.inspection} is of ${one.lot}, the pieces are of ${lot}`, at);
    return;
  }
  const left = leftOf(state.lot, spans);
  if (left !== null) {
    const outside = one.spans === null ? [] : subtractSpans(left, one.spans);
    if (outside.length > 0) no.conflict('inspects-other-pieces', `${one.inspection} does not speak for pieces ${formatSpans(outside)}`, at);
  }
  if (one.state !== 'decided') {
    no.conflict('inspection-undecided', `${one.inspection} has no verdict: it is ${one.state}`, at);
    return;
  }
  if (left !== null && left.length === 0) return; // nothing is left to be accepted
  if (left === null && heldAt(state.lot, 'on-hand').quantityMicro + heldAt(state.lot, 'dispatched').quantityMicro === 0) return;
  if (one.verdict !== 'accepted') no.conflict('inspection-not-accepted', `${one.inspection} did not accept the pieces`, at);
  for (const later of standingOver(state.inspections, left)) {
    if (later.inspection === one.inspection || (later.state === 'decided' && later.verdict === 'accepted')) continue;
    no.conflict('inspected-again', `the last word on these pieces is with ${later.inspection}, which is ${later.verdict ?? later.state}`, {
      ...at,
      inspection: later.inspection,
    });
  }
}

/** Pieces that are still somewhere to be accepted; null for a bulk lot. */
function leftOf(lot: LotState, spans: SpanSet | null): SpanSet | null {
  if (lot.pieces === null) return null;
  const there = (['on-hand', 'dispatched', 'retained'] as const).map((fate) => heldAt(lot, fate).spans ?? []);
  const gone = there.reduce<SpanSet>((rest, here) => subtractSpans(rest, here), wholeLot(lot.pieces));
  return subtractSpans(spans ?? wholeLot(lot.pieces), gone);
}
