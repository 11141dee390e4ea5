import { Reasons } from '../../../../shared/refusal.js';
import { type Span, type SpanSet, spanSet } from '../../../../shared/spans.js';
import type { LotState } from '../stock/lot-state.facts.js';
import { checkUsable } from '../stock/usable.decide.js';
import type { Faults } from './faults.js';
import type { KnownLots } from './known-lots.js';
import type { Uses } from './uses.js';

/** All that the files take of one lot of the plant. */
export interface OutsideUse {
  /** Number of the lot in the folder. */
  readonly number: number;
  readonly lot: string;
  /** Null for a bulk lot. */
  readonly spans: SpanSet | null;
  readonly quantityMicro: number;
  /** The latest day anything is taken: expiry is judged on it. */
  readonly on: string;
  /** The first row that takes something. */
  readonly firstUse: number;
}

/** What the files take of lots that stand in the plant. */
export function outsideUses(lots: KnownLots, uses: Uses): OutsideUse[] {
  const found: OutsideUse[] = [];
  for (let lot = lots.folder.lots.length; lot < lots.folder.lotNames.count; lot++) {
    const taken = [...uses.ofLot(lot)];
    if (taken.length === 0 || !lots.isSound(lot)) continue;
    const numbered = lots.pieces(lot) > 0;
    found.push({
      number: lot,
      lot: lots.code(lot),
      spans: numbered ? spanSet(taken.map((use): Span => [uses.first(use), uses.last(use)])) : null,
      // More than can be counted exactly is certainly more than there is.
      quantityMicro: numbered
        ? 0
        : Math.min(
            Number.MAX_SAFE_INTEGER,
            taken.reduce((sum, use) => sum + uses.quantityMicro(use), 0),
          ),
      on: taken.reduce((latest, use) => (uses.at(use) > latest ? uses.at(use) : latest), '').slice(0, 10),
      firstUse: taken[0]!,
    });
  }
  return found;
}

/**
 * Domain rule 4 for lots of the plant that the files use or ship: what would be refused at the bench is refused here.
 * @see docs/rules/import.md I-12
 */
export function checkOutsideUses(asked: readonly OutsideUse[], states: ReadonlyMap<string, LotState>, uses: Uses, faults: Faults): void {
  for (const use of asked) {
    const state = states.get(use.lot);
    if (!state) throw new Error(`lot ${use.lot} was there a moment ago`);
    const no = new Reasons();
    checkUsable(no, state, use);
    for (const reason of no.list) faults.add({ ...uses.spot(use.firstUse), value: use.lot }, reason.code, reason.detail);
  }
}
