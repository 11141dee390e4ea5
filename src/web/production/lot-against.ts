import type { Reason } from '../../../shared/refusal.js';
import type { Lot } from './run.js';

/**
 * What stands against charging a lot, as far as its page tells, each with the record where it is put right. The server has the last word
 * and looks at the pieces asked for; this is what an operator can know before walking to the scale.
 */
export function standsAgainst(lot: Lot, today: string): Reason[] {
  const reasons: Reason[] = [];
  const part = ({ pieces, quantity }: { pieces: string | null; quantity: string | null }): string =>
    pieces === null ? (quantity === null ? '' : `, ${quantity} ${lot.unit} of it`) : `, pieces ${pieces}`;
  for (const stamp of lot.stamps) {
    if (stamp.stamp === 'QUARANTINE') {
      reasons.push({ code: 'quarantine', detail: `In quarantine${part(stamp)}: quality has not released it.`, lot: lot.lot });
    } else if (stamp.stamp === 'NOT ACCEPTED') {
      reasons.push({ code: 'not-accepted', detail: `Not accepted${part(stamp)}.`, lot: lot.lot });
    }
  }
  if (lot.expiresOn !== null && lot.expiresOn < today)
    reasons.push({ code: 'expired', detail: `Expired on ${lot.expiresOn}.`, lot: lot.lot });
  for (const { hold, lot: held, inherited, reason, pieces, quantity } of lot.holds) {
    const which = inherited ? `Made from ${held}, which is on hold ${hold}` : `On hold ${hold}${part({ pieces, quantity })}`;
    reasons.push({ code: `hold ${hold} ${pieces}`, detail: `${which}: ${reason}.`, hold });
  }
  for (const { report, open, severity, pieces, quantity } of lot.reports) {
    if (open)
      reasons.push({ code: `report ${report}`, detail: `Report ${report} (${severity}) is open${part({ pieces, quantity })}.`, report });
  }
  for (const urgent of lot.urgentReleases) {
    reasons.push({
      code: `urgent ${urgent.urgentRelease}`,
      detail: `Urgent release ${urgent.urgentRelease}, signed by ${urgent.signedBy}, sets aside ${urgent.setsAside.join(', ')}: ${urgent.reason}.`,
    });
  }
  return reasons;
}
