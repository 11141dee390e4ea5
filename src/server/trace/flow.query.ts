import type { EntityManager } from 'typeorm';
import type { TraceFlow } from '../../../shared/api/flow.js';
import { knownLots, partiesAt } from '../plant/recall/known-at.query.js';
import { otherInputs, traceFlow } from './flow.js';
import type { Genealogy } from './genealogy.js';
import { placesAt, shipmentHeads } from './trace.query.js';
import type { Traced } from './traced.js';

/**
 * How what a trace reached went from lot to lot, as known at its entry.
 * @param inputs whether lots that only went into affected ones are shown as well
 */
export async function flowOfTrace(from: EntityManager, genealogy: Genealogy, traced: Traced, inputs: boolean): Promise<TraceFlow> {
  const { asKnownAt: seq } = traced;
  const linksInto = (lot: number) => genealogy.linksOf(lot, 'into', seq);
  const affected = new Map(traced.lots.map(({ lot, spans }) => [lot, spans]));
  const others = inputs ? otherInputs({ affected, linksInto }) : [];
  // Backward, what is asked about is where the origin went; where the rest of its inputs is says nothing about it.
  const placed = traced.lots.filter(({ isOrigin }) => isOrigin || traced.direction === 'forward').map(({ lot }) => lot);
  const places = await placesAt(from, placed, seq);
  const sent = places.filter(({ fate }) => fate === 'dispatched').map(({ at }) => at);
  const customers = new Map([...(await shipmentHeads(from, sent))].map(([shipment, { customer }]) => [shipment, customer]));
  return traceFlow({
    affected,
    lots: await knownLots(from, [...affected.keys(), ...others]),
    places,
    customers,
    parties: await partiesAt(from, customers.values(), seq),
    linksInto,
  });
}
