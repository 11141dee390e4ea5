import { formatQuantity } from '../../../../shared/quantity.js';
import type { Reasons } from '../../../../shared/refusal.js';
import { countPieces, coversSpans, formatSpans, type SpanSet, subtractSpans } from '../../../../shared/spans.js';
import type { SetAside } from '../holds/holds.facts.js';
import { heldAt, type LotState, meets, notIn } from './lot-state.facts.js';
import { whereabouts } from './part.decide.js';

/** What a command wants to charge or dispatch of one lot. */
export interface Use {
  /** Spans of a numbered lot; null for a bulk one. */
  readonly spans: SpanSet | null;
  readonly quantityMicro: number;
  /** Calendar date of use, against which expiry is judged. */
  readonly on: string;
  /** Location or vessel it is taken from; absent: wherever it is on hand. */
  readonly from?: string | undefined;
}

/**
 * Domain rule 4: only good material moves on. Adds a reason for each thing that stands against the use; what an open urgent release
 * sets aside is left out. Answers the urgent releases that were leant on, for the record to name.
 * @see docs/rules/stock.md S-4
 */
export function checkUsable(no: Reasons, lot: LotState, use: Use): string[] {
  const leaned = new Set<string>();
  const setAside = (what: SetAside): boolean => {
    const release = lot.urgentReleases.find((urgent) => urgent.setsAside.includes(what) && covers(urgent.spans, use.spans));
    if (release) leaned.add(release.urgentRelease);
    return release !== undefined;
  };
  checkStatus(no, lot, use, setAside);
  if (lot.expiresOn !== null && lot.expiresOn < use.on && !setAside('expired')) {
    no.conflict('lot-expired', `${lot.lot} expired on ${lot.expiresOn}`, { lot: lot.lot, expiresOn: lot.expiresOn });
  }
  checkHolds(no, lot, use, setAside);
  checkLeft(no, lot, use);
  return [...leaned];
}

const covers = (granted: SpanSet | null, wanted: SpanSet | null): boolean =>
  granted === null || (wanted !== null && coversSpans(granted, wanted));

function checkStatus(no: Reasons, lot: LotState, use: Use, setAside: (what: SetAside) => boolean): void {
  const refused = lot.statuses.get('not-accepted');
  if (refused !== undefined && meets(refused, use.spans)) {
    no.conflict('lot-not-accepted', `${lot.lot} was not accepted`, { lot: lot.lot });
    return;
  }
  const open = notIn(lot, 'released', use.spans);
  if (open === null || setAside('quarantine')) return;
  const which = open === 'all' ? '' : ` pieces ${formatSpans(open)}`;
  no.conflict('lot-not-released', `${lot.lot}${which} is in quarantine: quality has not released it`, {
    lot: lot.lot,
    ...(open === 'all' ? {} : { pieces: formatSpans(open) }),
  });
}

function checkHolds(no: Reasons, lot: LotState, use: Use, setAside: (what: SetAside) => boolean): void {
  for (const hold of lot.holds) {
    if (hold.quantityMicro !== null || !meets(hold.spans, use.spans) || setAside('held')) continue;
    no.conflict('lot-held', `${lot.lot} is on hold ${hold.hold}: ${hold.reason}`, { lot: lot.lot, hold: hold.hold });
  }
  for (const hold of lot.inherited) {
    if (setAside('held')) continue;
    no.conflict('made-from-held', `${lot.lot} was made from ${hold.lot}, which is on hold ${hold.hold}: ${hold.reason}`, {
      lot: lot.lot,
      hold: hold.hold,
      heldLot: hold.lot,
    });
  }
}

/** A held quantity of a bulk lot is kept back: what is left for use is what is on hand less what is held. */
function checkLeft(no: Reasons, lot: LotState, use: Use): void {
  const there = heldAt(lot, 'on-hand', use.from);
  const where = use.from === undefined ? 'on hand' : `at ${use.from}`;
  if (use.spans !== null && there.spans !== null) {
    const missing = subtractSpans(use.spans, there.spans);
    if (missing.length === 0) return;
    no.conflict('pieces-not-there', `${countPieces(missing)} of the pieces of ${lot.lot} are not ${where}: ${whereabouts(lot, missing)}`, {
      lot: lot.lot,
      pieces: formatSpans(missing),
    });
    return;
  }
  const heldMicro = lot.holds.reduce((sum, hold) => sum + (hold.quantityMicro ?? 0), 0);
  const leftMicro = Math.max(0, Math.min(there.quantityMicro, heldAt(lot, 'on-hand').quantityMicro - heldMicro));
  if (use.quantityMicro <= leftMicro) return;
  const held = heldMicro > 0 ? ` (${formatQuantity(heldMicro)} ${lot.unit} on hold)` : '';
  no.conflict(
    'not-enough-left',
    `${lot.lot} has ${formatQuantity(leftMicro)} ${lot.unit} ${where}${held}, ${formatQuantity(use.quantityMicro)} asked for`,
    { lot: lot.lot, left: formatQuantity(leftMicro), asked: formatQuantity(use.quantityMicro) },
  );
}
