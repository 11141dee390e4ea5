import { formatQuantity } from '../../../../shared/quantity.js';
import type { Reasons } from '../../../../shared/refusal.js';
import { countPieces, coversSpans, formatSpans, intersectSpans, type SpanSet, subtractSpans } from '../../../../shared/spans.js';
import type { OpenHold, SetAside } from '../holds/holds.facts.js';
import { type Excuse, excuseOf, sayWhyNot } from './granted.decide.js';
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
  /** It is charged to a rework run. */
  readonly rework?: boolean | undefined;
}

/**
 * Domain rule 4: only good material moves on. Adds a reason for each thing that stands against the use; what a signed disposition lets go,
 * or an open urgent release sets aside, is left out. Answers the urgent releases that were leant on, for the record to name.
 * @see docs/rules/stock.md S-4
 * @see docs/rules/nonconformance.md NR-31, NR-33
 */
export function checkUsable(no: Reasons, lot: LotState, use: Use): string[] {
  const leaned = new Set<string>();
  const setAside = (what: SetAside): boolean => {
    const release = lot.urgentReleases.find((urgent) => urgent.setsAside.includes(what) && covers(urgent.spans, use.spans));
    if (release) leaned.add(release.urgentRelease);
    return release !== undefined;
  };
  const excuse = excuseOf(lot, use);
  const before = no.list.length;
  checkStatus(no, lot, use, excuse, setAside);
  const stopped = no.list.length > before;
  if (lot.expiresOn !== null && lot.expiresOn < use.on && !setAside('expired')) {
    no.conflict('lot-expired', `${lot.lot} expired on ${lot.expiresOn}`, { lot: lot.lot, expiresOn: lot.expiresOn });
  }
  const held = checkHolds(no, lot, use, excuse, setAside);
  const short = checkLeft(no, lot, use, excuse);
  if (stopped || held || short) sayWhyNot(no, lot, use);
  return [...leaned];
}

const covers = (granted: SpanSet | null, wanted: SpanSet | null): boolean =>
  granted === null || (wanted !== null && coversSpans(granted, wanted));

type SetsAside = (what: SetAside) => boolean;

function checkStatus(no: Reasons, lot: LotState, use: Use, excuse: Excuse, setAside: SetsAside): void {
  if (excuse.all()) return;
  const spans = excuse.pieces(use.spans);
  const refused = lot.statuses.get('not-accepted');
  if (refused !== undefined && meets(refused, spans)) {
    no.conflict('lot-not-accepted', `${lot.lot} was not accepted`, { lot: lot.lot });
    return;
  }
  const open = notIn(lot, 'released', spans);
  if (open === null || setAside('quarantine')) return;
  const which = open === 'all' ? '' : ` pieces ${formatSpans(open)}`;
  no.conflict('lot-not-released', `${lot.lot}${which} is in quarantine: quality has not released it`, {
    lot: lot.lot,
    ...(open === 'all' ? {} : { pieces: formatSpans(open) }),
  });
}

/** Adds a reason for each hold that stops the use; answers whether there is one. */
function checkHolds(no: Reasons, lot: LotState, use: Use, excuse: Excuse, setAside: SetsAside): boolean {
  const own = lot.holds.filter((hold) => hold.quantityMicro === null && stops(hold, lot, use, excuse) && !setAside('held'));
  for (const { hold, reason } of own) no.conflict('lot-held', `${lot.lot} is on hold ${hold}: ${reason}`, { lot: lot.lot, hold });
  const inherited = lot.inherited.filter(({ hold }) => !excuse.all(hold) && !setAside('held'));
  for (const hold of inherited) {
    no.conflict('made-from-held', `${lot.lot} was made from ${hold.lot}, which is on hold ${hold.hold}: ${hold.reason}`, {
      lot: lot.lot,
      hold: hold.hold,
      heldLot: hold.lot,
    });
  }
  return own.length + inherited.length > 0;
}

function stops({ hold, spans }: OpenHold, lot: LotState, use: Use, excuse: Excuse): boolean {
  if (!meets(spans, use.spans) || excuse.all(hold)) return false;
  if (lot.pieces === null) return true;
  const held = spans === null || use.spans === null ? use.spans : intersectSpans(spans, use.spans);
  return excuse.pieces(held, hold)?.length !== 0;
}

/**
 * A held quantity of a bulk lot is kept back: what is left for use is what is on hand less what is held. Adds a reason where there is less;
 * answers whether holds are why.
 */
function checkLeft(no: Reasons, lot: LotState, use: Use, { keptMicro, moreMicro }: Excuse): boolean {
  const there = heldAt(lot, 'on-hand', use.from);
  const where = use.from === undefined ? 'on hand' : `at ${use.from}`;
  if (use.spans !== null && there.spans !== null) {
    const missing = subtractSpans(use.spans, there.spans);
    if (missing.length === 0) return false;
    no.conflict('pieces-not-there', `${countPieces(missing)} of the pieces of ${lot.lot} are not ${where}: ${whereabouts(lot, missing)}`, {
      lot: lot.lot,
      pieces: formatSpans(missing),
    });
    return false;
  }
  const usableMicro = heldAt(lot, 'on-hand').quantityMicro - keptMicro + moreMicro;
  const leftMicro = Math.max(0, Math.min(there.quantityMicro, usableMicro));
  if (use.quantityMicro <= leftMicro) return false;
  const heldMicro = lot.holds.reduce((sum, hold) => sum + (hold.quantityMicro ?? 0), 0);
  const held = heldMicro > 0 ? ` (${formatQuantity(heldMicro)} ${lot.unit} on hold)` : '';
  no.conflict(
    'not-enough-left',
    `${lot.lot} has ${formatQuantity(leftMicro)} ${lot.unit} ${where}${held}, ${formatQuantity(use.quantityMicro)} asked for`,
    { lot: lot.lot, left: formatQuantity(leftMicro), asked: formatQuantity(use.quantityMicro) },
  );
  return keptMicro > 0;
}
