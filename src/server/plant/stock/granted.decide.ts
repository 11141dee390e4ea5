import { formatQuantity } from '../../../../shared/quantity.js';
import type { Reasons } from '../../../../shared/refusal.js';
import { coversSpans, type SpanSet, subtractSpans, unionSpans, wholeLot } from '../../../../shared/spans.js';
import type { Grant } from '../nonconformance/grants.facts.js';
import { heldAt, type LotState, meets } from './lot-state.facts.js';
import type { Use } from './usable.decide.js';

/** What of a use dispositions in force let go although the lot is held or not released. */
export interface Excuse {
  /** The pieces that are left to be judged once those let go are taken out; of a bulk lot all of it, or nothing. */
  readonly pieces: (wanted: SpanSet | null, hold?: string) => SpanSet | null;
  /** Whether the whole use is let go: of one hold, or of what does not ask for a hold. */
  readonly all: (hold?: string) => boolean;
  /** Of a bulk lot, in millionths: what is still kept back by holds on quantities, and how much of that may go. */
  readonly keptMicro: number;
  readonly moreMicro: number;
}

/** A signed rework lets a part into a rework run and nowhere else; a concession lets it go until its last day. */
const applies = (grant: Grant, use: Use): boolean =>
  grant.kind === 'concession' ? grant.until !== null && grant.until >= use.on : use.rework === true;

/**
 * What the dispositions of a lot let go of a use.
 * @see docs/rules/nonconformance.md NR-31, NR-33
 */
export function excuseOf(lot: LotState, use: Use): Excuse {
  const granted = lot.grants.filter((grant) => applies(grant, use));
  return lot.pieces === null ? excuseOfBulk(lot, use, granted) : excuseOfPieces(lot, use, granted);
}

const setting = (granted: readonly Grant[], hold: string | undefined): Grant[] =>
  granted.filter((grant) => hold === undefined || grant.holds.includes(hold));

function excuseOfPieces(lot: LotState, use: Use, granted: readonly Grant[]): Excuse {
  const letGo = (hold: string | undefined): SpanSet =>
    setting(granted, hold).reduce<SpanSet>((sum, grant) => unionSpans(sum, grant.spans ?? []), []);
  return {
    pieces: (wanted, hold) => (granted.length === 0 ? wanted : subtractSpans(wanted ?? wholeLot(lot.pieces!), letGo(hold))),
    all: (hold) => granted.length > 0 && use.spans !== null && coversSpans(letGo(hold), use.spans),
    keptMicro: 0,
    moreMicro: 0,
  };
}

function excuseOfBulk(lot: LotState, use: Use, granted: readonly Grant[]): Excuse {
  const hereMicro = heldAt(lot, 'on-hand').quantityMicro;
  const countedMicro = lot.grants[0]?.onHandMicro ?? hereMicro;
  const takenMicro = takenBefore(lot);
  const left = (of: readonly Grant[]): number => of.reduce((sum, grant) => sum + (grant.leftMicro ?? 0), 0);
  const held = lot.holds.filter((hold) => hold.quantityMicro !== null);
  const heldMicro = held.reduce((sum, hold) => sum + hold.quantityMicro!, 0);
  const goneMicro = lot.grants.reduce((sum, grant) => sum + (grant.usedMicro ?? 0), 0);
  return {
    pieces: (wanted) => wanted,
    all: (hold) => granted.length > 0 && use.quantityMicro + takenMicro <= left(setting(granted, hold)),
    keptMicro: Math.min(countedMicro, Math.max(0, heldMicro - goneMicro)),
    moreMicro: left(granted.filter((grant) => held.some((hold) => grant.holds.includes(hold.hold)))),
  };
}

/** What earlier lines of the same command took of a bulk lot. */
const takenBefore = (lot: LotState): number => Math.max(0, (lot.grants[0]?.onHandMicro ?? 0) - heldAt(lot, 'on-hand').quantityMicro);

/** Says why a disposition that is about this part lets it go no more, beside what stands against it. */
export function sayWhyNot(no: Reasons, lot: LotState, use: Use): void {
  for (const grant of lot.grants) {
    const { report, disposition, kind, until, leftMicro } = grant;
    if (!meets(grant.spans, use.spans)) continue;
    const at = { lot: lot.lot, report, disposition };
    const which = `disposition ${disposition} of ${report}`;
    if (!applies(grant, use)) {
      if (kind === 'concession')
        no.conflict('concession-expired', `the concession for ${lot.lot}, ${which}, ended on ${until}`, { ...at, until });
      continue;
    }
    if (leftMicro === null || use.quantityMicro + takenBefore(lot) <= leftMicro) continue;
    const left = `${formatQuantity(leftMicro)} ${lot.unit}`;
    if (kind === 'concession') {
      no.conflict('concession-used-up', `the concession for ${lot.lot}, ${which}, covers ${left} more`, {
        ...at,
        left: formatQuantity(leftMicro),
      });
    } else {
      no.conflict('rework-used-up', `${which} lets ${left} more of ${lot.lot} be reworked`, { ...at, left: formatQuantity(leftMicro) });
    }
  }
}
