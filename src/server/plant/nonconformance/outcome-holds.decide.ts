import { type SpanSet, subtractSpans, wholeLot } from '../../../../shared/spans.js';
import type { HeldPart, HoldLiftedByReport, HoldPlacedByRule } from '../holds/holds.facts.js';
import { heldAt, type LotState, meets } from '../stock/lot-state.facts.js';
import type { AffectedPart } from './nonconformance.facts.js';

/** One lot under an open hold of the report. */
export interface OwnHold extends HeldPart {
  readonly hold: string;
  readonly reaches: boolean;
  readonly reason: string;
  readonly owner: string;
}

/** What lifting and placing holds for an outcome rests on. */
export interface HoldsState {
  readonly report: string;
  /** Open holds of the report, without those that mark a concession. */
  readonly held: readonly OwnHold[];
  readonly lots: ReadonlyMap<string, LotState>;
  /** Parts that links lead to from a bulk lot, by its code: a reaching hold on all of it stopped them. */
  readonly madeFrom: ReadonlyMap<string, readonly HeldPart[]>;
  /** Free numbers for holds, two for each hold that stands and two more. */
  readonly numbers: readonly string[];
}

export type HoldChange = HoldLiftedByReport | HoldPlacedByRule;

/** A part that an outcome lets go. */
export interface Freed extends AffectedPart {
  /** Of a bulk lot, what of the part was on hand until now; left out: all of it. What went elsewhere leaves what is on hand held. */
  readonly onHandMicro?: number | undefined;
}

interface LetGo {
  readonly parts: readonly Freed[];
  readonly reason: string;
  /** Leaves holds on all of a bulk lot as they are: what was taken out of it was not let go. */
  readonly quantitiesOnly?: boolean | undefined;
  /** Lots that need no hold of their own when the one that reached them is lifted. */
  readonly except?: readonly string[] | undefined;
}

/**
 * Lifts the report's holds for parts that its outcome lets go, and holds the rest anew, under numbers that name the report. What was made from
 * a bulk lot stays stopped, lot by lot, when the hold that reached it is cut down to a quantity: a quantity reaches nothing.
 * @see docs/rules/nonconformance.md NR-34
 */
export function letGo(asked: LetGo, state: HoldsState): HoldChange[] {
  const numbers = [...state.numbers];
  const left = new Map(asked.parts.map((part) => [part, freedMicro(part)]));
  const codes = [...new Set(state.held.map((row) => row.hold))];
  return codes.flatMap((hold) => {
    const rows = state.held.filter((row) => row.hold === hold);
    const rests = rows.map((row) => restOf(row, asked, left, state));
    if (rests.every(({ touched }) => !touched)) return [];
    return [
      lifted(hold, state.report, asked.reason),
      ...placedAnew(
        rows[0]!,
        rests.flatMap(({ rest }) => rest),
        numbers,
        state.report,
      ),
    ];
  });
}

/** A part without a quantity is all there is. */
const freedMicro = (part: Freed): number => part.onHandMicro ?? part.quantityMicro ?? Number.MAX_SAFE_INTEGER;

export const lifted = (hold: string, report: string, reason: string): HoldLiftedByReport => ({
  kind: 'HoldLiftedByReport',
  v: 1,
  hold,
  report,
  reason,
});

/** The rest of a hold: what can reach in one, quantities in another. Takes the numbers it uses. */
function placedAnew(of: OwnHold, rest: readonly HeldPart[], numbers: string[], report: string): HoldPlacedByRule[] {
  const reaching = rest.filter((part) => part.quantityMicro === null);
  const quantities = rest.filter((part) => part.quantityMicro !== null);
  return [
    { parts: reaching, reaches: of.reaches },
    { parts: quantities, reaches: false },
  ]
    .filter(({ parts }) => parts.length > 0)
    .map(({ parts, reaches }) => placed({ parts, reaches, reason: of.reason, owner: of.owner }, numbers, report));
}

/** A hold of the report. Takes the number it uses. */
export function placed(
  hold: Pick<HoldPlacedByRule, 'parts' | 'reaches' | 'reason' | 'owner'>,
  numbers: string[],
  report: string,
): HoldPlacedByRule {
  const number = numbers.shift();
  if (number === undefined) throw new Error('not enough free numbers for holds');
  return { kind: 'HoldPlacedByRule', v: 1, hold: number, ...hold, inspection: null, report };
}

type Rest = { readonly touched: boolean; readonly rest: readonly HeldPart[] };

function restOf(row: OwnHold, asked: LetGo, left: Map<Freed, number>, state: HoldsState): Rest {
  const { lot, spans, quantityMicro } = row;
  const untouched: Rest = { touched: false, rest: [{ lot, spans, quantityMicro }] };
  const parts = asked.parts.filter((part) => part.lot === lot);
  if (parts.length === 0) return untouched;
  const of = state.lots.get(lot)!;
  if (of.pieces !== null) {
    const freed = parts.filter((part) => meets(spans, part.spans));
    if (freed.length === 0 || asked.quantitiesOnly) return untouched;
    const rest = freed.reduce<SpanSet>((sum, part) => subtractSpans(sum, part.spans ?? wholeLot(of.pieces!)), spans ?? wholeLot(of.pieces));
    return { touched: true, rest: rest.length === 0 ? [] : [{ lot, spans: rest, quantityMicro: null }] };
  }
  if (quantityMicro !== null) return lessOf(row, quantityMicro, parts, left);
  return asked.quantitiesOnly ? untouched : cutDown(row, of, parts, asked, state);
}

/** Takes what is let go off a held quantity; what one hold did not cover comes off the next. */
function lessOf(row: OwnHold, quantityMicro: number, parts: readonly Freed[], left: Map<Freed, number>): Rest {
  let rest = quantityMicro;
  for (const part of parts) {
    const taken = Math.min(rest, left.get(part)!);
    left.set(part, left.get(part)! - taken);
    rest -= taken;
  }
  return {
    touched: rest < quantityMicro,
    rest: rest === 0 ? [] : [{ lot: row.lot, spans: null, quantityMicro: rest }],
  };
}

/** A hold on all of a bulk lot becomes one on what is not let go, and on what was made from the lot. */
function cutDown(row: OwnHold, of: LotState, parts: readonly Freed[], asked: LetGo, state: HoldsState): Rest {
  const here = heldAt(of, 'on-hand').quantityMicro;
  if (parts.some((part) => part.quantityMicro === null)) return { touched: true, rest: [] };
  const rest = Math.max(0, here - parts.reduce((sum, part) => sum + freedMicro(part), 0));
  const made = row.reaches ? (state.madeFrom.get(row.lot) ?? []).filter((part) => !asked.except?.includes(part.lot)) : [];
  return { touched: true, rest: [...(rest === 0 ? [] : [{ lot: row.lot, spans: null, quantityMicro: rest }]), ...made] };
}
