import { Reasons } from '../../../../shared/refusal.js';
import { formatSpans, type SpanSet } from '../../../../shared/spans.js';
import type { Revised } from '../catalogue/catalogue.facts.js';
import type { InspectionPlan } from '../catalogue/inspection-plan.facts.js';
import { heldAt, type LotState, meets } from '../stock/lot-state.facts.js';
import { checkInside, checkThere } from '../stock/part.decide.js';
import type { InspectionOpened } from './inspection.facts.js';
import { opened, type ToInspect } from './opening.decide.js';
import { type LotInspection, standingOver } from './standing.decide.js';

/** An inspection somebody asks for. */
export interface RequestInspection {
  readonly lot: string;
  /** Left out: what of the lot is on hand. */
  readonly pieces?: SpanSet | undefined;
  readonly reason: string;
}

export interface RequestState {
  readonly lot: LotState | undefined;
  /** The plan of the lot's item as it stands. */
  readonly plan: Revised<InspectionPlan> | undefined;
  /** Every inspection of the lot, in the order they were opened. */
  readonly inspections: readonly LotInspection[];
  /** Containers the lot came in, where it is bulk and was delivered. */
  readonly containers: number | null;
  /** A free number. */
  readonly inspection: string;
}

/**
 * Opens an inspection that nothing calls for by itself. What was not accepted before is presented again by it: it then follows that
 * inspection, and counts for no switching rule.
 * @throws Refusal when the lot or the plan is missing, the pieces are not there, or an inspection of them is open
 * @see docs/rules/inspection.md IN-30, IN-31
 */
export function decideRequest(command: RequestInspection, state: RequestState): InspectionOpened {
  const no = new Reasons();
  const { lot, plan } = state;
  if (!lot) no.unknown('lot-unknown', `no lot ${command.lot}`, { pointer: '/lot', lot: command.lot });
  no.throwIfAny();
  const part = partOf(no, command, lot!, state.containers);
  if (!plan) no.conflict('no-inspection-plan', `${lot!.item} has no inspection plan: nothing says what to look at`, { item: lot!.item });
  if (part) checkNoneOpen(no, part, state.inspections);
  no.throwIfAny();
  return opened(part!, plan!, state.inspection, ...occasionOf(part!, command, state.inspections));
}

function partOf(no: Reasons, { pieces }: RequestInspection, lot: LotState, containers: number | null): ToInspect | null {
  const here = heldAt(lot, 'on-hand');
  const part = { lot: lot.lot, item: lot.item, unit: lot.unit, supplier: lot.supplier, quantityMicro: here.quantityMicro };
  if (here.quantityMicro === 0) {
    no.conflict('nothing-to-inspect', `nothing of ${lot.lot} is on hand`, { pointer: '/lot', lot: lot.lot });
    return null;
  }
  if (lot.pieces === null) {
    if (pieces !== undefined) {
      no.conflict('no-pieces-here', `${lot.lot} is bulk and has no pieces: it is inspected as a whole`, {
        pointer: '/pieces',
        lot: lot.lot,
      });
      return null;
    }
    // Once some has been taken, nobody has counted how many containers are left.
    return { ...part, spans: null, containers: here.quantityMicro === lot.quantityMicro ? containers : null };
  }
  if (pieces !== undefined) {
    if (!checkInside(no, lot, pieces)) return null;
    checkThere(no, lot, { spans: pieces, quantityMicro: 0 }, { fate: 'on-hand', at: undefined });
  }
  return { ...part, spans: pieces ?? here.spans, containers: null };
}

function checkNoneOpen(no: Reasons, part: ToInspect, inspections: readonly LotInspection[]): void {
  for (const { inspection, spans, state } of inspections) {
    if ((state !== 'waiting' && state !== 'begun') || !meets(spans, part.spans)) continue;
    const which = spans === null ? part.lot : `pieces ${formatSpans(spans)} of ${part.lot}`;
    const how = state === 'waiting' ? 'waits to begin' : 'is under way';
    no.conflict('inspection-open-already', `${inspection} of ${which} ${how}`, { inspection, lot: part.lot });
  }
}

function occasionOf(
  { spans }: ToInspect,
  { reason }: RequestInspection,
  inspections: readonly LotInspection[],
): ['request' | 'resubmission', Partial<Pick<InspectionOpened, 'resubmits' | 'reason'>>] {
  // One that was skipped said nothing about the material: what counts is the last verdict before it.
  const judged = standingOver(
    inspections.filter(({ state }) => state === 'decided'),
    spans,
  );
  const before = judged.find(({ verdict }) => verdict === 'not-accepted');
  return before === undefined ? ['request', { reason }] : ['resubmission', { reason, resubmits: before.inspection }];
}
