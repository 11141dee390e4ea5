import type { EntityManager } from 'typeorm';
import type { SpanSet } from '../../../../shared/spans.js';
import type { Genealogy } from '../../trace/genealogy.js';
import { traceForward } from '../../trace/walk.js';
import type { Standing } from './affected-lots.js';
import { holdsAt, type KnownHold, statusesAt } from './known-at.query.js';

/** Status and holds of lots as known at entry `seq`, holds that reach them from what they were made of included. */
export async function standingAt(
  from: EntityManager,
  genealogy: Genealogy,
  ids: readonly number[],
  seq: number,
  on: string,
): Promise<Standing & { readonly holds: readonly KnownHold[] }> {
  const holds = await holdsAt(from, seq);
  const held = new Map<number, (SpanSet | null)[]>();
  const add = (lotId: number, spans: SpanSet | null): void => {
    const parts = held.get(lotId) ?? [];
    parts.push(spans);
    held.set(lotId, parts);
  };
  for (const hold of holds) {
    if (hold.quantityMicro !== null) continue; // a part of a bulk lot: the rest of it may go
    add(hold.lotId, hold.spans);
    if (!hold.reaches) continue;
    for (const { lot, spans } of traceForward(genealogy, [{ lot: hold.lotId, spans: hold.spans }], { asKnownAt: seq }).lots) {
      if (lot !== hold.lotId) add(lot, spans);
    }
  }
  return { statuses: await statusesAt(from, ids, seq), held, on, holds };
}
