import { Reasons } from '../../../../shared/refusal.js';
import { coversSpans, intersectSpans, type SpanSet, subtractSpans, unionSpans } from '../../../../shared/spans.js';
import type { HeldPart, HoldPlaced, HoldPlacedByRule, OpenHold } from '../holds/holds.facts.js';
import type { Signature } from '../people/signature.js';
import { heldAt, type LotState } from '../stock/lot-state.facts.js';
import { accountedBy } from './adds-up.decide.js';
import type { AffectedPart, Relation, ReportContained, ReportPartJudged } from './nonconformance.facts.js';
import { affectedPart, type AskedPart } from './raise.decide.js';
import type { Report } from './report-state.facts.js';
import { moveBetween, type ReportState } from './states.facts.js';

/** A hold as containment looks at it. */
export type ReportHold = Pick<OpenHold, 'hold' | 'lot' | 'spans' | 'quantityMicro'>;

export interface ContainState {
  readonly report: Report;
  /** Open holds that count as the report's own. */
  readonly holds: readonly ReportHold[];
  readonly lots: ReadonlyMap<string, LotState>;
  /** Free numbers for two holds: one that reaches what was made from it, one on quantities, which cannot. */
  readonly numbers: readonly [string, string];
}

/**
 * Contains a report: whatever is affected and stopped by no hold of its own is held, with what was made from it.
 * @throws Refusal when it is not raised
 * @see docs/rules/nonconformance.md NR-6
 */
export function decideContain(
  command: { readonly note?: string | undefined; readonly owner: string },
  state: ContainState,
  signature: Signature,
): readonly (HoldPlaced | ReportContained)[] {
  const no = new Reasons();
  const { report } = state;
  checkCanMove(no, report, 'contained');
  no.throwIfAny();
  const parts = byLot(report.affected).flatMap((part) => notHeld(part, state));
  const reason = `affected by nonconformance report ${report.report}: ${report.raised.fact.requirement}`;
  const placed = [parts.filter((part) => part.quantityMicro === null), parts.filter((part) => part.quantityMicro !== null)].flatMap(
    (of, i): HoldPlaced[] =>
      of.length === 0
        ? []
        : [
            {
              kind: 'HoldPlaced',
              v: 1,
              hold: state.numbers[i as 0 | 1],
              parts: of,
              reaches: i === 0,
              reason,
              owner: command.owner,
              signature,
            },
          ],
  );
  const holds = [...new Set([...state.holds.map((one) => one.hold), ...placed.map((one) => one.hold)])].toSorted();
  const contained: ReportContained = {
    kind: 'ReportContained',
    v: 1,
    report: report.report,
    state: 'contained',
    holds,
    note: command.note ?? null,
    signature,
  };
  return [...placed, contained];
}

/** A hold names each lot once. */
export function byLot(parts: readonly AffectedPart[]): AffectedPart[] {
  const lots = new Map<string, AffectedPart>();
  for (const part of parts) {
    const before = lots.get(part.lot);
    const spans = part.spans === null ? null : unionSpans(before?.spans ?? [], part.spans);
    lots.set(part.lot, { lot: part.lot, spans, quantityMicro: spans === null ? (before?.quantityMicro ?? 0) + part.quantityMicro! : null });
  }
  return [...lots.values()];
}

/** What of a part is stopped by none of the holds; a bulk lot of which all that is here is affected is held whole. */
function notHeld(part: AffectedPart, { holds, lots }: ContainState): HeldPart[] {
  const own = holds.filter((hold) => hold.lot === part.lot);
  if (part.spans !== null) {
    const left = subtractSpans(part.spans, heldSpans(own));
    return left.length === 0 ? [] : [{ lot: part.lot, spans: left, quantityMicro: null }];
  }
  if (own.some((hold) => hold.quantityMicro === null || hold.quantityMicro >= part.quantityMicro!)) return [];
  const here = heldAt(lots.get(part.lot)!, 'on-hand').quantityMicro;
  return [{ lot: part.lot, spans: null, quantityMicro: part.quantityMicro! >= here ? null : part.quantityMicro }];
}

const heldSpans = (holds: readonly ReportHold[]): SpanSet => holds.reduce<SpanSet>((sum, hold) => unionSpans(sum, hold.spans ?? []), []);

/** Whether every part that waits for its outcome is stopped by a hold of the report. @see docs/rules/nonconformance.md NR-6, NR-34 */
export function isContained(report: Report, holds: readonly ReportHold[]): boolean {
  const done = report.dispositions.filter((one) => one.carriedOut !== null).flatMap((one) => accountedBy(one) ?? []);
  return report.affected.every((part) => {
    const own = holds.filter((hold) => hold.lot === part.lot);
    const freed = done.filter((one) => one.lot === part.lot);
    if (part.spans === null) {
      const open = part.quantityMicro! - freed.reduce((sum, one) => sum + (one.quantityMicro ?? 0), 0);
      return open <= 0 || own.length > 0;
    }
    const waiting = freed.reduce<SpanSet>((left, one) => subtractSpans(left, one.spans ?? []), part.spans);
    return coversSpans(heldSpans(own), waiting);
  });
}

export interface Judge extends AskedPart {
  readonly relation: Relation;
  readonly affected: boolean;
  readonly reason: string;
}

/**
 * Judges a part in or out. One judged in after the report was contained is held with it at once, and opens the dispositions again.
 * @see docs/rules/nonconformance.md NR-5, NR-6
 */
export function decideJudge(
  command: Judge,
  { report, lots, numbers, holds }: ContainState,
  owner: string,
): readonly (ReportPartJudged | HoldPlacedByRule)[] {
  const no = new Reasons();
  const lot = lots.get(command.lot);
  if (!lot) no.unknown('lot-unknown', `no lot ${command.lot}`, { pointer: '/lot', lot: command.lot });
  const part = lot ? affectedPart(no, command, lot, '') : null;
  const next = afterJudging(no, report, command.affected);
  if (part !== null && command.affected) checkNotAffected(no, report, part);
  no.throwIfAny();
  const judged: ReportPartJudged = {
    kind: 'ReportPartJudged',
    v: 1,
    report: report.report,
    state: next,
    part: part!,
    relation: command.relation,
    affected: command.affected,
    reason: command.reason,
  };
  const left = command.affected && next !== 'raised' ? notHeld(part!, { report, lots, numbers, holds }) : [];
  if (left.length === 0) return [judged];
  const reason = `judged affected by nonconformance report ${report.report}: ${command.reason}`;
  const reaches = left[0]!.quantityMicro === null;
  return [
    judged,
    { kind: 'HoldPlacedByRule', v: 1, hold: numbers[0], parts: left, reaches, reason, owner, inspection: null, report: report.report },
  ];
}

/** The state after a part is judged: what comes in late has no disposition yet. */
function afterJudging(no: Reasons, report: Report, affected: boolean): ReportState {
  const { state } = report;
  if (state === 'closed' || state === 'withdrawn') {
    no.conflict('report-in-other-state', `${report.report} is ${state}: nothing more is judged in it`, { report: report.report, state });
    return state;
  }
  const decided = state === 'dispositioned' || state === 'carried-out' || state === 'verified';
  return affected && decided ? 'reviewed' : state;
}

function checkNotAffected(no: Reasons, report: Report, part: AffectedPart): void {
  for (const one of report.affected.filter((of) => of.lot === part.lot)) {
    const twice = part.spans === null || intersectSpans(one.spans ?? [], part.spans).length > 0;
    if (twice) {
      no.conflict('affected-already', `${part.lot} is affected already: name only what is not`, { pointer: '/lot', lot: part.lot });
    }
  }
}

/** Adds a reason when a report cannot come to a state from where it is. */
function checkCanMove(no: Reasons, report: Report, to: ReportState): void {
  if (moveBetween(report.state, to)) return;
  no.conflict('report-in-other-state', `${report.report} is ${report.state}: from there it does not become ${to}`, {
    report: report.report,
    state: report.state,
  });
}
