import { byCodeUnits } from '../../../../shared/code-units.js';
import { MICRO } from '../../../../shared/quantity.js';
import { countPieces, intersectSpans, type SpanSet, unionSpans } from '../../../../shared/spans.js';
import type { AffectedWhereabouts, Consignee, ConsigneeLine, Fate as WrittenFate } from '../../documents/recall-report.types.js';
import type { PartThen } from '../../trace/trace.query.js';
import type { Party } from '../catalogue/catalogue.facts.js';
import type { Fate } from '../stock/effects.facts.js';
import type { KnownLine, KnownLot } from './known-at.query.js';

/** Affected pieces by lot id; null: the whole of a bulk lot. */
export type Affected = ReadonlyMap<number, SpanSet | null>;

const FATES: Readonly<Record<Fate, WrittenFate>> = {
  'on-hand': 'on hand',
  consumed: 'consumed',
  dispatched: 'dispatched',
  scrapped: 'scrapped',
  retained: 'retained',
  'destroyed-in-test': 'destroyed in test',
  'returned-to-supplier': 'returned to supplier',
  'count-difference': 'counted adjustment',
};

/** How much of a lot is affected, in millionths of its unit. */
export const affectedMicro = (lot: KnownLot, spans: SpanSet | null): number =>
  spans === null ? lot.quantityMicro : countPieces(spans) * MICRO;

interface Sum {
  spans: SpanSet | null;
  quantityMicro: number;
}

function meet(affected: SpanSet | null, part: { readonly spans: SpanSet | null; readonly quantityMicro: number }): Sum | null {
  if (affected === null || part.spans === null) return { spans: null, quantityMicro: part.quantityMicro };
  const spans = intersectSpans(affected, part.spans);
  return spans.length === 0 ? null : { spans, quantityMicro: countPieces(spans) * MICRO };
}

function add(sums: Map<string, Sum>, key: string, part: Sum): void {
  const before = sums.get(key);
  if (!before) sums.set(key, part);
  else {
    const spans = before.spans === null || part.spans === null ? null : unionSpans(before.spans, part.spans);
    sums.set(key, { spans, quantityMicro: spans === null ? before.quantityMicro + part.quantityMicro : countPieces(spans) * MICRO });
  }
}

/** Who was sent affected goods, in which shipment, and what of it is still out. Sorted by customer, shipment and lot. */
export function consigneesOf(
  affected: Affected,
  lots: ReadonlyMap<number, KnownLot>,
  lines: readonly KnownLine[],
  places: readonly PartThen[],
  parties: ReadonlyMap<string, Party>,
): Consignee[] {
  const sent = new Map<string, Sum>();
  const heads = new Map<string, KnownLine>();
  for (const line of lines) {
    const part = meet(affected.get(line.lotId)!, line);
    if (!part) continue;
    const key = `${line.shipment}\u0000${line.lotId}`;
    add(sent, key, part);
    heads.set(key, line);
  }
  const out = new Map<string, Sum>();
  for (const place of places) {
    if (place.fate !== 'dispatched') continue;
    const part = meet(affected.get(place.lotId)!, place);
    if (part) add(out, `${place.at}\u0000${place.lotId}`, part);
  }
  const byCustomer = new Map<string, ConsigneeLine[]>();
  for (const [key, part] of sent) {
    const { shipment, customer, shippedAt, lotId } = heads.get(key)!;
    const { lot, unit } = lots.get(lotId)!;
    const still = out.get(key) ?? { spans: part.spans === null ? null : [], quantityMicro: 0 };
    const list = byCustomer.get(customer) ?? [];
    byCustomer.set(customer, list);
    list.push({ shipment, shippedOn: shippedAt.slice(0, 10), lot, ...part, unit, out: still });
  }
  return [...byCustomer]
    .map(([code, list]) => ({
      code,
      name: parties.get(code)?.name ?? code,
      contact: parties.get(code)?.contact ?? null,
      lines: list.toSorted(
        (a, b) => byCodeUnits(a.shippedOn, b.shippedOn) || byCodeUnits(a.shipment, b.shipment) || byCodeUnits(a.lot, b.lot),
      ),
    }))
    .toSorted((a, b) => byCodeUnits(a.code, b.code));
}

/** Affected ∩ whereabouts; for numbered lots a partition of the affected pieces. Sorted by lot, fate and place. */
export function whereaboutsOf(
  affected: Affected,
  lots: ReadonlyMap<number, KnownLot>,
  places: readonly PartThen[],
  customers: ReadonlyMap<string, string>,
  parties: ReadonlyMap<string, Party>,
): AffectedWhereabouts[] {
  const found: AffectedWhereabouts[] = [];
  for (const place of places) {
    const part = meet(affected.get(place.lotId)!, place);
    if (!part) continue;
    const { lot, unit } = lots.get(place.lotId)!;
    found.push({ lot, ...part, unit, fate: FATES[place.fate as Fate], ...held(place, customers, parties) });
  }
  const key = (part: AffectedWhereabouts) => `${part.lot}\u0000${part.fate}\u0000${part.document ?? part.holder}`;
  return found.toSorted((a, b) => byCodeUnits(key(a), key(b)));
}

function held(
  { fate, at }: PartThen,
  customers: ReadonlyMap<string, string>,
  parties: ReadonlyMap<string, Party>,
): { holder: string; document: string | null } {
  if (fate === 'on-hand' || fate === 'retained') return { holder: at, document: null };
  if (fate !== 'dispatched') return { holder: at, document: at };
  const customer = customers.get(at) ?? at;
  const name = parties.get(customer)?.name;
  return { holder: name === undefined ? customer : `${customer} ${name}`, document: at };
}
