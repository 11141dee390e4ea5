import type { EntityManager } from 'typeorm';
import type { AffectedWhereabouts, Consignee } from '../../documents/recall-report.types.js';
import { type PartThen, placesAt } from '../../trace/trace.query.js';
import type { Party } from '../catalogue/catalogue.facts.js';
import { type Affected, consigneesOf, whereaboutsOf } from './affected.js';
import { type KnownLine, type KnownLot, knownLots, linesAt, partiesAt } from './known-at.query.js';

/** Everything the record says about affected goods, as known at one entry. */
export interface Figures {
  readonly seq: number;
  readonly affected: Affected;
  readonly lots: ReadonlyMap<number, KnownLot>;
  readonly lines: readonly KnownLine[];
  readonly places: readonly PartThen[];
  readonly parties: ReadonlyMap<string, Party>;
  /** Customer by shipment. */
  readonly customers: ReadonlyMap<string, string>;
  readonly consignees: readonly Consignee[];
  readonly whereabouts: readonly AffectedWhereabouts[];
}

/** Reads where affected goods went and are, as known at entry `seq`. */
export async function figuresAt(from: EntityManager, affected: Affected, seq: number): Promise<Figures> {
  const ids = [...affected.keys()];
  const lots = await knownLots(from, ids);
  const lines = await linesAt(from, ids, seq);
  const places = await placesAt(from, ids, seq);
  const customers = new Map(lines.map((line) => [line.shipment, line.customer]));
  const parties = await partiesAt(from, customers.values(), seq);
  return {
    seq,
    affected,
    lots,
    lines,
    places,
    parties,
    customers,
    consignees: consigneesOf(affected, lots, lines, places, parties),
    whereabouts: whereaboutsOf(affected, lots, places, customers, parties),
  };
}
