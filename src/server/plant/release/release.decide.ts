import { Reasons } from '../../../../shared/refusal.js';
import { formatSpans, intersectSpans, type Span, spanSet, type SpanSet, subtractSpans } from '../../../../shared/spans.js';
import { type LotInspection, type Standing, standingOver } from '../inspection/standing.decide.js';
import type { Signature } from '../people/signature.js';
import type { LotStatus } from '../stock/effects.facts.js';
import { type LotState, meets, notIn, wholeOf } from '../stock/lot-state.facts.js';
import { checkInside } from '../stock/part.decide.js';
import type { LotNotAccepted, LotReconsidered, LotReleased } from './release.facts.js';

/** A quality decision on a lot, or on pieces of a numbered one. */
export interface Decide {
  readonly lot: string;
  /** Left out: the whole lot. */
  readonly pieces?: SpanSet | undefined;
  readonly reason: string;
}

/** What the decision rests on. */
export interface ReleaseState {
  readonly lot: LotState | undefined;
  /** Who booked or made the lot: they cannot alone release it. */
  readonly makers: readonly string[];
  /** What the closing of its run left to be explained, and nobody has explained yet. */
  readonly unexplained: readonly string[];
  /** Every inspection of the lot, in the order they were opened. */
  readonly inspections: readonly LotInspection[];
  /** What instruments found out of tolerance have judged of the lot, and nobody has answered for yet. */
  readonly questions: readonly QuestionedInspections[];
  /** Reworks and repairs of it, or of what it was reworked from, that no inspection has verified. */
  readonly unverified: readonly Unverified[];
  /** Pieces in which a part was replaced after an inspection of them was opened. */
  readonly reworkedSince: readonly ReworkedSince[];
  readonly on: string;
}

/** Inspections that rest on an instrument which is in question. */
interface QuestionedInspections {
  readonly instrument: string;
  /** The calibration that asks. */
  readonly calibration: string;
  readonly inspections: readonly string[];
}

/** A rework or repair decided in a nonconformance report. */
export interface Unverified {
  readonly report: string;
  readonly disposition: number;
  /** Pieces of the lot it is about; null: all of it. */
  readonly spans: SpanSet | null;
}

export interface ReworkedSince {
  readonly inspection: string;
  readonly piece: number;
}

/**
 * Releases what stands in quarantine.
 * @throws Refusal when nothing is in quarantine, the signer made the lot, it is expired, on hold, made from what is, or its inspection
 * has not accepted it or rests on an instrument that is in question
 * @see docs/rules/release.md QD-1 to QD-4, QD-7 to QD-12
 */
export function decideRelease(command: Decide, state: ReleaseState, signature: Signature): LotReleased {
  const { no, lot, spans: asked } = begin(command, state);
  // A whole-lot release covers what is in quarantine of it; named pieces must all be.
  const spans = command.pieces === undefined ? (lot.statuses.get('quarantine') ?? asked) : asked;
  if (state.makers.includes(signature.by)) {
    no.forbidden('maker-cannot-release', `${signature.by} booked or made ${lot.lot}: somebody else has to release it`, { lot: lot.lot });
  }
  checkInQuarantine(no, lot, spans);
  for (const what of state.unexplained) {
    no.conflict('investigation-open', `${lot.lot}: ${what}; it has to be explained before the lot is released`, { lot: lot.lot });
  }
  for (const one of standingOver(state.inspections, spans)) {
    checkInspection(no, lot, one);
    checkQuestions(no, lot, one, state.questions);
    checkReworked(no, lot, one, state.reworkedSince);
  }
  for (const { report, disposition } of state.unverified.filter((one) => meets(one.spans, spans))) {
    const detail = `${lot.lot} is reworked for disposition ${disposition} of ${report}, which no inspection has verified yet`;
    no.conflict('rework-unverified', detail, { lot: lot.lot, report, disposition });
  }
  if (lot.expiresOn !== null && lot.expiresOn < state.on) {
    no.conflict('lot-expired', `${lot.lot} expired on ${lot.expiresOn}`, { lot: lot.lot, expiresOn: lot.expiresOn });
  }
  for (const hold of lot.holds) {
    if (hold.quantityMicro === null && meets(hold.spans, spans)) {
      no.conflict('lot-held', `${lot.lot} is on hold ${hold.hold}: ${hold.reason}`, { lot: lot.lot, hold: hold.hold });
    }
  }
  for (const hold of lot.inherited) {
    const detail = `${lot.lot} was made from ${hold.lot}, which is on hold ${hold.hold}: ${hold.reason}`;
    no.conflict('made-from-held', detail, { lot: lot.lot, hold: hold.hold, heldLot: hold.lot });
  }
  no.throwIfAny();
  return { kind: 'LotReleased', ...decided(command, spans, signature, 'released') };
}

/** Refuses what stands in quarantine or was released. @see docs/rules/release.md QD-5 */
export function decideNonAcceptance(command: Decide, state: ReleaseState, signature: Signature): LotNotAccepted {
  const { no, lot, spans: asked } = begin(command, state);
  const refused = lot.statuses.get('not-accepted');
  const left = refused === undefined || refused === null || asked === null ? asked : subtractSpans(asked, refused);
  // A decision on the whole lot is on what of it is still open; named pieces must all be.
  const spans = command.pieces === undefined ? left : asked;
  if (refused !== undefined && (left === null || left.length === 0 || meets(refused, spans))) {
    const which = refused === null || asked === null ? '' : ` pieces ${formatSpans(intersectSpans(asked, refused))}`;
    no.conflict('not-accepted-already', `${lot.lot}${which} is not accepted already`, { lot: lot.lot });
  }
  no.throwIfAny();
  return { kind: 'LotNotAccepted', ...decided(command, spans, signature, 'not-accepted') };
}

/** Takes a decision back: into quarantine again. @see docs/rules/release.md QD-6 */
export function decideReconsideration(command: Decide, state: ReleaseState, signature: Signature): LotReconsidered {
  const { no, lot, spans } = begin(command, state);
  if (notIn(lot, 'quarantine', spans) === null)
    no.conflict('in-quarantine-already', `${lot.lot} is in quarantine already`, { lot: lot.lot });
  no.throwIfAny();
  return { kind: 'LotReconsidered', ...decided(command, spans, signature, 'quarantine') };
}

function begin(command: Decide, { lot }: ReleaseState): { no: Reasons; lot: LotState; spans: SpanSet | null } {
  const no = new Reasons();
  if (!lot) {
    no.unknown('lot-unknown', `no lot ${command.lot}`, { lot: command.lot });
    no.throwIfAny();
    throw new Error('unreachable');
  }
  if (command.pieces === undefined) return { no, lot, spans: wholeOf(lot) };
  if (lot.pieces === null) {
    no.conflict('no-pieces-here', `${lot.lot} is bulk and has no pieces: decide on the whole lot`, { pointer: '/pieces', lot: lot.lot });
  } else {
    checkInside(no, lot, command.pieces);
  }
  no.throwIfAny();
  return { no, lot, spans: command.pieces };
}

function checkInQuarantine(no: Reasons, lot: LotState, spans: SpanSet | null): void {
  const outside = notIn(lot, 'quarantine', spans);
  if (outside === null) return;
  const which = outside === 'all' ? '' : ` pieces ${formatSpans(outside)}`;
  no.conflict('not-in-quarantine', `${lot.lot}${which} is not in quarantine`, { lot: lot.lot });
}

/** What an inspection has left open or found stands against releasing the pieces it speaks for. */
function checkInspection(no: Reasons, { lot }: LotState, { inspection, state, verdict, of }: Standing): void {
  const part = of === null ? lot : `pieces ${formatSpans(of)} of ${lot}`;
  const facts = { lot, inspection };
  if (state === 'waiting' || state === 'begun') {
    const how = state === 'waiting' ? 'waits to begin' : 'is under way';
    no.conflict('inspection-open', `inspection ${inspection} of ${part} ${how}: its verdict comes before the release`, facts);
  } else if (state === 'skipped') {
    no.conflict(
      'inspection-skipped',
      `inspection ${inspection} of ${part} was skipped: ask for one, or leave it to its urgent release`,
      facts,
    );
  } else if (verdict === 'not-accepted') {
    const detail = `inspection ${inspection} did not accept ${part}: after sorting or rework ask for another, which has to accept it`;
    no.conflict('inspection-not-accepted', detail, facts);
  }
}

/** An inspection speaks for a lot only as far as what it was measured with can be trusted. */
function checkQuestions(no: Reasons, { lot }: LotState, { inspection, of }: Standing, questions: readonly QuestionedInspections[]): void {
  const part = of === null ? lot : `pieces ${formatSpans(of)} of ${lot}`;
  for (const { instrument, calibration, inspections } of questions) {
    if (!inspections.includes(inspection)) continue;
    const detail = `${instrument} measured ${part} at inspection ${inspection} and ${calibration} puts it in doubt: quality has to answer what it judged`;
    no.conflict('test-instrument-questioned', detail, { lot, inspection, instrument, calibration });
  }
}

/**
 * Pieces that an inspection accepted before a part was replaced in them: what was accepted is not what stands there now.
 * @see docs/rules/release.md QD-12 (21 CFR 820.90(b)(2))
 */
export function reworkedAfter({ inspection, verdict, of }: Standing, since: readonly ReworkedSince[]): SpanSet {
  if (verdict !== 'accepted' || of === null) return [];
  return intersectSpans(of, spanSet(since.filter((one) => one.inspection === inspection).map((one): Span => [one.piece, one.piece])));
}

function checkReworked(no: Reasons, { lot }: LotState, standing: Standing, since: readonly ReworkedSince[]): void {
  const pieces = reworkedAfter(standing, since);
  if (pieces.length === 0) return;
  const { inspection } = standing;
  const detail = `inspection ${inspection} accepted pieces ${formatSpans(pieces)} of ${lot} before they were reworked: ask for another`;
  no.conflict('inspected-before-rework', detail, { lot, inspection, pieces: formatSpans(pieces) });
}

const decided = (command: Decide, spans: SpanSet | null, signature: Signature, status: LotStatus) =>
  ({
    v: 1,
    lot: command.lot,
    spans,
    reason: command.reason,
    signature,
    restatused: [{ lot: command.lot, spans, status }],
  }) as const;
