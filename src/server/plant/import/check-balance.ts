import { formatQuantity } from '../../../../shared/quantity.js';
import { formatSpans } from '../../../../shared/spans.js';
import type { Breath } from './breath.js';
import type { Faults } from './faults.js';
import type { KnownLots } from './known-lots.js';
import type { Uses } from './uses.js';

/**
 * Nothing is taken that is not there: of a bulk lot no more than its quantity, of a numbered lot no piece twice. Lots of the plant
 * are checked against what it has on hand elsewhere; here only against the files themselves.
 * @see docs/rules/import.md I-10, I-11
 */
export async function checkBalance(lots: KnownLots, uses: Uses, faults: Faults, breath: Breath): Promise<void> {
  for (let lot = 0; lot < lots.folder.lotNames.count; lot++) {
    if (breath.dueNow()) await breath.take();
    if (!lots.isSound(lot)) continue;
    if (lots.pieces(lot) > 0) checkPieces(lot, lots, uses, faults);
    else checkQuantity(lot, lots, uses, faults);
  }
}

/** A lot whose quantity is not known had what was taken of it; even that has to be a quantity. */
function checkQuantity(lot: number, lots: KnownLots, uses: Uses, faults: Faults): void {
  const own = lots.folder.lots[lot];
  if (own === undefined) return;
  const most = own.quantityMicro ?? Number.MAX_SAFE_INTEGER;
  let taken = 0;
  for (const use of uses.ofLot(lot)) {
    const asked = uses.quantityMicro(use);
    taken += asked;
    if (taken <= most) continue;
    const left = formatQuantity(most - (taken - asked));
    const { file, line } = uses.spot(use);
    const spot = { file, line, column: 'quantity', value: formatQuantity(asked) };
    const lotHas = `${lots.code(lot)} has ${left} ${lots.itemOf(lot).unit} left of ${formatQuantity(most)}, and more is taken`;
    if (own.quantityMicro === null) faults.add(spot, 'too-much', `what is taken of ${lots.code(lot)} is more than can be kept exactly`);
    else faults.add(spot, 'not-enough-left', lotHas);
    return;
  }
}

function checkPieces(lot: number, lots: KnownLots, uses: Uses, faults: Faults): void {
  const sorted = uses.ofLot(lot).toSorted((a, b) => uses.first(a) - uses.first(b) || a - b);
  let holder = -1;
  let end = 0;
  for (const use of sorted) {
    if (holder >= 0 && uses.first(use) <= end && uses.taker(use) !== uses.taker(holder)) {
      reportTwice(lot, use, holder, end, lots, uses, faults);
    }
    if (uses.first(use) > end || uses.last(use) > end) holder = use;
    end = Math.max(end, uses.last(use));
  }
}

/** The later of the two rows is the one at fault. */
function reportTwice(lot: number, use: number, holder: number, end: number, lots: KnownLots, uses: Uses, faults: Faults): void {
  const [earlier, later] = use < holder ? [use, holder] : [holder, use];
  const twice = formatSpans([[uses.first(use), Math.min(uses.last(use), end)]]);
  const spot = { ...uses.spot(later), value: lots.code(lot) };
  faults.add(spot, 'taken-twice', `pieces ${twice} of ${lots.code(lot)} went ${uses.went(earlier)} already`);
}
