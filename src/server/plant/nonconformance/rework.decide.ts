import { formatQuantity } from '../../../../shared/quantity.js';
import type { Reasons } from '../../../../shared/refusal.js';
import {
  coversSpans,
  formatSpans,
  intersectSpans,
  type Span,
  spanSet,
  type SpanSet,
  subtractSpans,
  unionSpans,
} from '../../../../shared/spans.js';
import type { Revised } from '../catalogue/catalogue.facts.js';
import type { InspectionPlan } from '../catalogue/inspection-plan.facts.js';
import type { InspectionOpened } from '../inspection/inspection.facts.js';
import { opened, type ToInspect } from '../inspection/opening.decide.js';
import { type LotInspection, standingOver } from '../inspection/standing.decide.js';
import type { AffectedPart } from './nonconformance.facts.js';

/** A rework run, as far as it worked on one lot. */
export interface Worked {
  readonly run: string;
  readonly kind: string;
  readonly closedSeq: number | null;
  /** The lot it yielded. */
  readonly yields: string | null;
  /** What of the lot went into it and did not come back. */
  readonly charged: readonly { readonly seq: number; readonly spans: SpanSet | null; readonly quantityMicro: number }[];
  /** Units of the lot in which it replaced a part. */
  readonly replaced: readonly { readonly seq: number; readonly piece: number }[];
  /** What other dispositions of the same lot claim of a bulk charge, in millionths. */
  readonly claimedMicro: number;
}

/** What a rework or repair came to: pieces that are what they were, or that went into a lot of their own. */
interface Reworked {
  /** Null: the pieces were worked on where they are. */
  readonly becomes: string | null;
}

/**
 * Whether a run, closed since the disposition was signed, took every piece of the part.
 * @param signedSeq the entry that completed the signatures: nothing done before it counts
 * @see docs/rules/nonconformance.md NR-31
 */
export function checkWorked(
  no: Reasons,
  part: AffectedPart,
  worked: Worked | undefined,
  asked: string | null,
  signedSeq: number,
): Reworked | null {
  const at = { pointer: '/run' };
  if (asked === null) {
    no.malformed('run-missing', 'which run was it done in?', at);
    return null;
  }
  if (!worked) {
    no.unknown('run-unknown', `no run ${asked}`, at);
    return null;
  }
  const { run } = worked;
  if (worked.kind !== 'rework') no.conflict('not-rework', `${run} is a ${worked.kind} run: pieces are reworked in a rework run`, at);
  if (worked.closedSeq === null) no.conflict('run-open', `${run} is not closed yet`, at);
  else if (worked.closedSeq < signedSeq) no.conflict('worked-before', `${run} was closed before the disposition was signed`, at);
  const found = part.spans === null ? bulkWorked(no, part, worked, signedSeq) : piecesWorked(no, part.lot, part.spans, worked, signedSeq);
  return worked.kind === 'rework' && worked.closedSeq !== null && worked.closedSeq > signedSeq ? found : null;
}

function piecesWorked(no: Reasons, lot: string, spans: SpanSet, worked: Worked, signedSeq: number): Reworked | null {
  const since = <T extends { readonly seq: number }>(list: readonly T[]): T[] => list.filter((one) => one.seq > signedSeq);
  const charged = since(worked.charged).reduce<SpanSet>((sum, one) => unionSpans(sum, one.spans ?? []), []);
  const replaced = spanSet(since(worked.replaced).map((one): Span => [one.piece, one.piece]));
  const missing = subtractSpans(spans, unionSpans(charged, replaced));
  if (missing.length > 0) {
    no.conflict('not-worked-on', `${worked.run} has not worked on pieces ${formatSpans(missing)} of ${lot} since it was signed`, {
      pointer: '/run',
      pieces: formatSpans(missing),
    });
    return null;
  }
  if (coversSpans(replaced, spans) && intersectSpans(charged, spans).length === 0) return { becomes: null };
  if (!coversSpans(charged, spans)) {
    const apart = formatSpans(subtractSpans(spans, charged));
    no.conflict(
      'reworked-both-ways',
      `pieces ${apart} of ${lot} are what they were, the others went into ${worked.yields ?? 'another lot'}`,
      {
        pointer: '/run',
      },
    );
    return null;
  }
  return { becomes: worked.yields };
}

function bulkWorked(no: Reasons, { lot, quantityMicro }: AffectedPart, worked: Worked, signedSeq: number): Reworked | null {
  const took = worked.charged.filter((one) => one.seq > signedSeq).reduce((sum, one) => sum + one.quantityMicro, 0) - worked.claimedMicro;
  if (took < (quantityMicro ?? 0)) {
    no.conflict('not-worked-on', `${worked.run} has taken ${formatQuantity(Math.max(0, took))} of ${lot} since it was signed`, {
      pointer: '/run',
    });
    return null;
  }
  return { becomes: worked.yields };
}

/** The pieces to inspect after a rework, with the plan and the inspections of their lot. */
export interface InspectAgain {
  readonly part: ToInspect;
  readonly plan: Revised<InspectionPlan> | undefined;
  readonly inspections: readonly LotInspection[];
  /** The one the run opened for the lot it yielded. */
  readonly openedByRun: string | null;
  readonly inspection: string;
  readonly reason: string;
}

/**
 * The inspection that has to accept what was reworked: the one the run opened for its lot, or a new one.
 * @see docs/rules/nonconformance.md NR-31
 */
export function inspectAgain(no: Reasons, again: InspectAgain): { readonly opens: string; readonly fact: InspectionOpened | null } | null {
  const { part, plan, inspections, openedByRun } = again;
  if (openedByRun !== null) return { opens: openedByRun, fact: null };
  if (!plan) {
    no.conflict('no-inspection-plan', `${part.item} has no inspection plan: nothing says what to look at after it`, { item: part.item });
    return null;
  }
  const judged = standingOver(inspections, part.spans);
  for (const { inspection, state } of judged.filter((one) => one.state === 'waiting' || one.state === 'begun')) {
    no.conflict('inspection-open-already', `${inspection} of ${part.lot} was opened before the work and is ${state}: end it first`, {
      inspection,
      lot: part.lot,
    });
  }
  const refusedBy = judged.find(({ verdict }) => verdict === 'not-accepted')?.inspection ?? null;
  const fact = opened(part, plan, again.inspection, 'resubmission', { resubmits: refusedBy, reason: again.reason });
  return { opens: again.inspection, fact };
}
