import { formatQuantity, MICRO } from '../../../../shared/quantity.js';
import type { Reasons } from '../../../../shared/refusal.js';
import { countPieces, formatSpans, intersectSpans, type SpanSet, subtractSpans } from '../../../../shared/spans.js';
import type { Fate, LotBorn, LinkGroup, Movement, Place } from '../stock/effects.facts.js';
import { heldAt, type LotState } from '../stock/lot-state.facts.js';
import { chargedMass } from '../production/charge-mass.decide.js';
import { placeWords, whereabouts } from '../stock/part.decide.js';
import type { Item, Revised } from '../catalogue/catalogue.facts.js';
import type { AffectedPart } from './nonconformance.facts.js';

/** Where what is scrapped may be, and what needs no scrapping any more. Goods at a customer are scrapped there. */
const SCRAPPED_FROM: readonly Fate[] = ['on-hand', 'retained', 'dispatched'];
const GONE_ALREADY: readonly Fate[] = ['scrapped', 'destroyed-in-test', 'returned-to-supplier', 'count-difference'];

/**
 * Movements that scrap a part, here or where a customer has it; pieces that are gone already stay as they are.
 * @param report number of the report, under which it is scrapped
 * @see docs/rules/nonconformance.md NR-30
 */
export const scrappedBy = (no: Reasons, lot: LotState, part: AffectedPart, report: string): Movement[] =>
  takenAway(no, lot, part, SCRAPPED_FROM, GONE_ALREADY, { fate: 'scrapped', at: report });

/** Movements that send a part back to its supplier. */
export const returnedBy = (no: Reasons, lot: LotState, part: AffectedPart, report: string): Movement[] =>
  takenAway(no, lot, part, ['on-hand'], ['returned-to-supplier'], { fate: 'returned-to-supplier', at: report });

function takenAway(
  no: Reasons,
  lot: LotState,
  part: AffectedPart,
  fates: readonly Fate[],
  already: readonly Fate[],
  to: Place,
): Movement[] {
  const places = fates.flatMap((fate) => lot.places.filter((here) => here.place.fate === fate));
  const moved: Movement[] = [];
  if (part.spans !== null) {
    let left: SpanSet = already.reduce<SpanSet>((rest, fate) => subtractSpans(rest, heldAt(lot, fate).spans ?? []), part.spans);
    for (const here of places) {
      const taken = intersectSpans(left, here.spans ?? []);
      if (taken.length === 0) continue;
      left = subtractSpans(left, taken);
      moved.push({ lot: lot.lot, spans: taken, quantityMicro: countPieces(taken) * MICRO, from: here.place, to });
    }
    if (left.length > 0) {
      const detail = `pieces ${formatSpans(left)} of ${lot.lot} are not there to be taken: ${whereabouts(lot, left)}`;
      no.conflict('pieces-not-there', detail, { lot: lot.lot, pieces: formatSpans(left) });
    }
    return moved;
  }
  let leftMicro = part.quantityMicro ?? 0;
  for (const here of places) {
    const taken = Math.min(leftMicro, here.quantityMicro);
    if (taken <= 0) continue;
    leftMicro -= taken;
    moved.push({ lot: lot.lot, spans: null, quantityMicro: taken, from: here.place, to });
  }
  if (leftMicro > 0) {
    const there = formatQuantity((part.quantityMicro ?? 0) - leftMicro);
    const detail = `${lot.lot} has ${there} ${lot.unit} to be taken, ${formatQuantity(part.quantityMicro ?? 0)} asked for`;
    no.conflict('not-enough-left', detail, { lot: lot.lot, left: there });
  }
  return moved;
}

/** What a regraded part becomes. */
interface Regraded {
  readonly born: LotBorn;
  readonly moved: readonly Movement[];
  readonly linked: readonly LinkGroup[];
}

/**
 * Makes a lot of another item from a part. The k-th piece taken is the k-th of the new lot; it is no younger, and stands in quarantine.
 * @returns null with a reason where the part is not on hand at one place
 * @see docs/rules/nonconformance.md NR-30
 */
export function regradedInto(
  no: Reasons,
  lot: LotState,
  part: AffectedPart,
  { code, item, becomes, report, at }: RegradeInto,
): Regraded | null {
  const quantityMicro = part.spans === null ? (part.quantityMicro ?? 0) : countPieces(part.spans) * MICRO;
  const moved = takenAway(no, lot, part, ['on-hand'], [], { fate: 'consumed', at: report });
  const places = [...new Set(moved.map((movement) => movement.from.at))];
  if (places.length > 1) {
    const where = moved.map((movement) => placeWords(movement.from)).join(' and ');
    no.conflict('regrade-in-one-place', `what becomes one lot stands in one place: ${lot.lot} is ${where}`, { lot: lot.lot });
  }
  const massMicro = chargedMass(no, { item, quantityMicro, spans: part.spans }, becomes, '/disposition');
  if (moved.length === 0 || places.length !== 1) return null;
  const born: LotBorn = {
    lot: code,
    item: becomes.code,
    itemRevision: becomes.revision,
    unit: lot.unit,
    pieces: part.spans === null ? null : countPieces(part.spans),
    quantityMicro,
    origin: 'made',
    bornAt: at,
    place: { fate: 'on-hand', at: places[0]! },
    status: 'quarantine',
    madeOn: lot.madeOn ?? undefined,
    expiresOn: lot.expiresOn ?? undefined,
    source: report,
  };
  const links =
    part.spans === null
      ? [{ from: lot.lot, fromSpan: null, to: code, toSpan: null, quantityMicro, massMicro, map: 'all' as const }]
      : oneByOne(lot.lot, part.spans, code, massMicro / countPieces(part.spans));
  return { born, moved, linked: [{ run: report, kind: 'regrade', at, links }] };
}

export interface RegradeInto {
  /** A free code for the new lot. */
  readonly code: string;
  readonly item: Revised<Item>;
  readonly becomes: Revised<Item>;
  readonly report: string;
  readonly at: string;
}

function oneByOne(from: string, spans: SpanSet, to: string, massOfOne: number): LinkGroup['links'] {
  let next = 1;
  return spans.map(([first, last]) => {
    const pieces = last - first + 1;
    const begin = next;
    next += pieces;
    return {
      from,
      fromSpan: [first, last] as const,
      to,
      toSpan: [begin, next - 1] as const,
      quantityMicro: pieces * MICRO,
      massMicro: pieces * massOfOne,
      map: 'each' as const,
    };
  });
}
