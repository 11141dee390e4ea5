import { formatQuantity } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { formatSpans, intersectSpans, type SpanSet, subtractSpans, unionSpans } from '../../../../shared/spans.js';
import type { Item, Revised } from '../catalogue/catalogue.facts.js';
import type { LotState } from '../stock/lot-state.facts.js';
import { settlePart } from '../stock/part.decide.js';
import { accountedBy } from './adds-up.decide.js';
import type { ConcessionTerms, DispositionKind, DispositionProposed, DispositionTerms } from './disposition.facts.js';
import type { AffectedPart } from './nonconformance.facts.js';
import type { Report } from './report-state.facts.js';

export interface Propose {
  readonly kind: DispositionKind;
  readonly lot: string;
  /** Left out with the quantity: all of the lot that has no disposition yet. */
  readonly pieces?: SpanSet | undefined;
  readonly quantityMicro?: number | undefined;
  readonly reason: string;
  readonly adverseEffect?: string | undefined;
  readonly regradeTo?: string | undefined;
  readonly concession?: ConcessionTerms | undefined;
}

export interface ProposeState {
  readonly report: Report;
  readonly lot: LotState | undefined;
  /** The item of the lot, and the one it is to become. */
  readonly item: Revised<Item> | undefined;
  readonly becomes: Revised<Item> | undefined;
  /** Today. */
  readonly on: string;
}

/**
 * Proposes what becomes of a part of what a reviewed report affects.
 * @throws Refusal with every fault of the part and of what its kind asks for
 * @see docs/rules/nonconformance.md NR-20 to NR-22
 */
export function decidePropose(command: Propose, state: ProposeState): DispositionProposed {
  const no = new Reasons();
  const { report, lot } = state;
  if (report.state !== 'reviewed') {
    no.conflict('report-in-other-state', `${report.report} is ${report.state}: dispositions are proposed once it is reviewed`, {
      report: report.report,
      state: report.state,
    });
  }
  if (!lot) no.unknown('lot-unknown', `no lot ${command.lot}`, { pointer: '/lot', lot: command.lot });
  const part = lot ? partOf(no, command, report, lot) : null;
  checkKind(no, command, state);
  no.throwIfAny();
  const terms: DispositionTerms = {
    kind: command.kind,
    part: part!,
    reason: command.reason,
    adverseEffect: command.adverseEffect ?? null,
    regradeTo: command.regradeTo ?? null,
    concession: command.concession ?? null,
  };
  return {
    kind: 'DispositionProposed',
    v: 1,
    report: report.report,
    state: report.state,
    disposition: report.dispositions.length + 1,
    terms,
  };
}

/** The part, which must be affected and have no disposition yet; where none is named, all that is open. */
function partOf(no: Reasons, command: Propose, report: Report, lot: LotState): AffectedPart | null {
  const affected = report.affected.filter((part) => part.lot === lot.lot);
  if (affected.length === 0) {
    no.conflict('not-affected', `${lot.lot} is not affected by ${report.report}`, { pointer: '/lot', lot: lot.lot });
    return null;
  }
  const disposed = report.dispositions.flatMap((one) => {
    const part = accountedBy(one);
    return part?.lot === lot.lot ? [{ part, disposition: one.disposition }] : [];
  });
  return lot.pieces === null ? quantityOf(no, command, lot, affected, disposed) : piecesOf(no, command, lot, affected, disposed);
}

type Disposed = readonly { readonly part: AffectedPart; readonly disposition: number }[];

const spansOf = (parts: readonly AffectedPart[]): SpanSet => parts.reduce<SpanSet>((sum, part) => unionSpans(sum, part.spans ?? []), []);

function piecesOf(
  no: Reasons,
  command: Propose,
  lot: LotState,
  affected: readonly AffectedPart[],
  disposed: Disposed,
): AffectedPart | null {
  const all = spansOf(affected);
  const open = subtractSpans(all, spansOf(disposed.map((one) => one.part)));
  const whole = command.pieces === undefined && command.quantityMicro === undefined;
  if (whole && open.length === 0) {
    no.conflict('dispositioned-already', `every affected piece of ${lot.lot} has a disposition`, { pointer: '/lot', lot: lot.lot });
    return null;
  }
  const part = settlePart(no, lot, { spans: whole ? open : command.pieces, quantityMicro: command.quantityMicro });
  if (part?.spans == null) return null;
  const outside = subtractSpans(part.spans, all);
  if (outside.length > 0) {
    no.conflict('not-affected', `pieces ${formatSpans(outside)} of ${lot.lot} are not affected`, {
      pointer: '/pieces',
      lot: lot.lot,
      pieces: formatSpans(outside),
    });
  }
  for (const { part: other, disposition } of disposed) {
    const twice = intersectSpans(part.spans, other.spans ?? []);
    if (twice.length === 0) continue;
    no.conflict('dispositioned-already', `pieces ${formatSpans(twice)} of ${lot.lot} have disposition ${disposition}`, {
      pointer: '/pieces',
      lot: lot.lot,
      pieces: formatSpans(twice),
      disposition,
    });
  }
  return { lot: lot.lot, spans: part.spans, quantityMicro: null };
}

function quantityOf(
  no: Reasons,
  command: Propose,
  lot: LotState,
  affected: readonly AffectedPart[],
  disposed: Disposed,
): AffectedPart | null {
  const sum = (parts: readonly AffectedPart[]): number => parts.reduce((total, part) => total + (part.quantityMicro ?? 0), 0);
  const allMicro = sum(affected);
  const openMicro = Math.max(0, allMicro - sum(disposed.map((one) => one.part)));
  const whole = command.pieces === undefined && command.quantityMicro === undefined;
  if (whole && openMicro === 0) {
    no.conflict('dispositioned-already', `all that is affected of ${lot.lot} has a disposition`, { pointer: '/lot', lot: lot.lot });
    return null;
  }
  const part = settlePart(no, lot, { spans: command.pieces, quantityMicro: whole ? openMicro : command.quantityMicro });
  if (part === null) return null;
  const at = { pointer: '/quantity', lot: lot.lot };
  const amount = `${formatQuantity(part.quantityMicro)} ${lot.unit}`;
  if (part.quantityMicro > allMicro) {
    no.conflict('not-affected', `${formatQuantity(allMicro)} ${lot.unit} of ${lot.lot} are affected, not ${amount}`, at);
  } else if (part.quantityMicro > openMicro) {
    const which = disposed.map((one) => one.disposition).join(', ');
    const detail = `${formatQuantity(openMicro)} ${lot.unit} of ${lot.lot} are without a disposition, not ${amount}: the rest has ${which}`;
    no.conflict('dispositioned-already', detail, { ...at, open: formatQuantity(openMicro) });
  }
  return { lot: lot.lot, spans: null, quantityMicro: part.quantityMicro };
}

function checkKind(no: Reasons, command: Propose, state: ProposeState): void {
  const { kind, adverseEffect, regradeTo, concession } = command;
  const reworks = kind === 'rework' || kind === 'repair';
  if (reworks && adverseEffect === undefined) {
    no.malformed('adverse-effect-missing', `say what adverse effect the ${kind} may have, or that it has none`, {
      pointer: '/adverseEffect',
    });
  }
  const given = { adverseEffect: [adverseEffect, reworks], regradeTo: [regradeTo, kind === 'regrade'] } as const;
  for (const [name, [value, belongs]] of Object.entries({ ...given, concession: [concession, kind === 'concession'] as const })) {
    if (value === undefined || belongs) continue;
    no.conflict('not-of-this-kind', `${name} says nothing about a ${kind}: leave it out`, { pointer: `/${name}` });
  }
  if (kind === 'regrade') checkRegrade(no, command, state);
  if (kind === 'concession') checkConcession(no, command, state);
  if (kind === 'return-to-supplier' && state.lot?.supplier === null) {
    no.conflict('no-supplier', `${command.lot} did not come from a supplier`, { pointer: '/kind', lot: command.lot });
  }
}

/** The pieces keep their number and unit, so the other item must be counted the same way. */
function checkRegrade(no: Reasons, { regradeTo }: Propose, { lot, item, becomes }: ProposeState): void {
  const at = { pointer: '/regradeTo' };
  if (regradeTo === undefined) {
    no.malformed('regrade-missing', 'say which item the pieces become', at);
    return;
  }
  if (!becomes) {
    no.unknown('item-unknown', `no item ${regradeTo}`, at);
    return;
  }
  if (!lot) return;
  if (becomes.code === lot.item) {
    no.conflict('regrade-to-itself', `${lot.lot} is ${lot.item} already`, at);
    return;
  }
  if (becomes.unit !== lot.unit) no.conflict('regrade-unit', `${becomes.code} is kept in ${becomes.unit}, ${lot.lot} in ${lot.unit}`, at);
  const tracking = lot.pieces === null ? 'bulk' : 'pieces';
  if (item?.tracking === 'serial') {
    no.conflict('regrade-tracking', `${lot.item} is known piece by piece by its serials: it stays what it is`, at);
  } else if (becomes.tracking !== tracking) {
    const detail = `${lot.item} is kept by ${item?.tracking ?? tracking}, ${becomes.code} by ${becomes.tracking}: only bulk becomes bulk, and pieces pieces`;
    no.conflict('regrade-tracking', detail, at);
  }
}

function checkConcession(no: Reasons, { concession }: Propose, { report, on }: ProposeState): void {
  if (concession === undefined) {
    no.malformed('concession-missing', 'say who authorised it, under which reference and until when', { pointer: '/concession' });
    return;
  }
  if (report.severity === 'critical' && concession.authority === 'quality') {
    no.conflict(
      'concession-of-critical',
      `${report.report} is critical: its concession is the customer’s or the design authority’s to give, not quality’s alone`,
      { pointer: '/concession/authority' },
    );
  }
  if (concession.until < on) {
    no.conflict('concession-expired', `the concession ended on ${concession.until}`, { pointer: '/concession/until' });
  }
}
