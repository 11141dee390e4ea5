import type { RibbonPart, RibbonStrip } from '../../../../shared/ribbon-layout.js';
import { countPieces, intersectSpans, type Span, type SpanSet, spanSet, subtractSpans, unionSpans } from '../../../../shared/spans.js';
import type { LotRibbon } from '../../documents/recall-report.types.js';
import type { KnownLink } from '../../trace/link.js';
import { meets } from '../stock/lot-state.facts.js';
import type { Figures } from './figures.query.js';
import type { KnownHold, KnownLot } from './known-at.query.js';

/** Lots shown piece by piece, and parts of one strip named one by one. */
const MOST_RIBBONS = 12;
const MOST_PARTS = 40;

/** What a ribbon is drawn from, besides the figures. */
export interface RibbonGround {
  /** Links into a lot, as known at the entry. */
  readonly linksInto: (lotId: number) => readonly KnownLink[];
  /** Lots that links come from, affected or not. */
  readonly sources: ReadonlyMap<number, KnownLot>;
  readonly holds: readonly KnownHold[];
}

/** Numbered lots worth a picture: those only partly affected first, then the largest. */
export function lotsForRibbons({ affected, lots }: Pick<Figures, 'affected' | 'lots'>): KnownLot[] {
  const partly = (lot: KnownLot): number => (countPieces(affected.get(lot.id) ?? []) < (lot.pieces ?? 0) ? 0 : 1);
  return [...affected.keys()]
    .map((id) => lots.get(id)!)
    .filter((lot) => (lot.pieces ?? 0) > 1)
    .toSorted((a, b) => partly(a) - partly(b) || (b.pieces ?? 0) - (a.pieces ?? 0) || (a.lot < b.lot ? -1 : 1))
    .slice(0, MOST_RIBBONS)
    .toSorted((a, b) => (a.lot < b.lot ? -1 : 1));
}

/** The ribbons of the affected runs: what went into which pieces, and where those pieces went. */
export function recallRibbons(figures: Figures, ground: RibbonGround): LotRibbon[] {
  return lotsForRibbons(figures).map((lot) => ({
    lot: lot.lot,
    itemName: lot.itemRecord?.name ?? lot.item,
    note: lot.origin === 'made' ? `made by ${lot.source}` : null,
    ribbon: {
      pieces: lot.pieces!,
      affected: figures.affected.get(lot.id) ?? [],
      above: above(lot, figures, ground.holds),
      below: below(lot, figures, ground),
    },
  }));
}

function above(lot: KnownLot, figures: Figures, holds: readonly KnownHold[]): RibbonStrip[] {
  const affected = figures.affected.get(lot.id) ?? [];
  const customers = new Map<string, SpanSet>();
  const here: RibbonPart[] = [];
  for (const place of figures.places) {
    if (place.lotId !== lot.id || place.spans === null) continue;
    if (place.fate === 'dispatched') {
      const customer = figures.customers.get(place.at) ?? place.at;
      customers.set(customer, unionSpans(customers.get(customer) ?? [], place.spans));
    } else if (place.fate !== 'consumed') {
      here.push(...split(place.fate === 'on-hand' ? place.at : `${place.fate} ${place.at}`, kindOf(place.fate), place.spans, affected));
    }
  }
  const sent = [...customers].flatMap(([customer, spans]) => split(customer, 'customer', spans, affected));
  const held = holds
    .filter((hold) => hold.lotId === lot.id)
    .map((hold): RibbonPart => ({ label: hold.hold, kind: 'held', spans: hold.spans ?? [[1, lot.pieces!]], affected: true }));
  return [
    { label: 'Customers', parts: most(sent) },
    { label: 'Not sent', parts: most(here) },
    { label: 'Holds', parts: most(held) },
  ].filter((strip) => strip.parts.length > 0);
}

const KINDS: Readonly<Record<string, string>> = { 'on-hand': 'on-hand', scrapped: 'scrap', retained: 'retain' };
const kindOf = (fate: string): string => KINDS[fate] ?? fate;

/** One part for what is affected and one for what is not. */
function split(label: string, kind: string, spans: SpanSet, affected: SpanSet): RibbonPart[] {
  const parts: RibbonPart[] = [
    { label, kind, spans: intersectSpans(spans, affected), affected: true },
    { label, kind, spans: subtractSpans(spans, affected), affected: false },
  ];
  return parts.filter((part) => part.spans.length > 0);
}

/** The largest parts; the rest of each colour as one, so that nothing is left out of the picture. */
function most(parts: readonly RibbonPart[]): RibbonPart[] {
  const sorted = parts.toSorted((a, b) => countPieces(b.spans) - countPieces(a.spans) || (a.label < b.label ? -1 : 1));
  const rest = sorted.slice(MOST_PARTS);
  const summed = [true, false].flatMap((affected): RibbonPart[] => {
    const alike = rest.filter((part) => part.affected === affected);
    if (alike.length === 0) return [];
    return [{ label: `${alike.length} more`, kind: alike[0]!.kind, spans: spanSet(alike.flatMap((part) => [...part.spans])), affected }];
  });
  return [...sorted.slice(0, MOST_PARTS), ...summed].toSorted((a, b) => a.spans[0]![0] - b.spans[0]![0] || (a.label < b.label ? -1 : 1));
}

/** One strip for each item that went in. */
function below(lot: KnownLot, figures: Figures, { linksInto, sources }: RibbonGround): RibbonStrip[] {
  const byItem = new Map<string, { label: string; inputs: Map<string, { spans: Span[]; affected: boolean }> }>();
  for (const link of linksInto(lot.id)) {
    const source = sources.get(link.fromLot)!;
    const strip = byItem.get(source.item) ?? { label: source.itemRecord?.name ?? source.item, inputs: new Map() };
    byItem.set(source.item, strip);
    for (const { spans, affected } of linkParts(link, figures)) {
      const key = `${source.lot}\u0000${affected}`;
      const input = strip.inputs.get(key) ?? { spans: [], affected };
      input.spans.push(...spans);
      strip.inputs.set(key, input);
    }
  }
  return [...byItem]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([, { label, inputs }]) => ({
      label,
      parts: most(
        [...inputs].map(([key, { spans, affected }]) => ({
          label: key.split('\u0000')[0]!,
          kind: 'input',
          spans: spanSet(spans),
          affected,
        })),
      ),
    }));
}

/** The pieces a link leads to: those it brings affected material to, and those it does not. */
function linkParts(link: KnownLink, { affected }: Pick<Figures, 'affected'>): { spans: SpanSet; affected: boolean }[] {
  const to: SpanSet = [[link.toFirst, link.toLast]];
  if (!affected.has(link.fromLot)) return [{ spans: to, affected: false }];
  const source = affected.get(link.fromLot)!;
  const from: SpanSet = [[link.fromFirst, link.fromLast]];
  if (source === null || link.map === 'all') return [{ spans: to, affected: source === null || meets(source, from) }];
  const shift = link.toFirst - link.fromFirst;
  const hit = intersectSpans(source, from).map(([first, last]): Span => [first + shift, last + shift]);
  return [
    { spans: hit, affected: true },
    { spans: subtractSpans(to, hit), affected: false },
  ].filter((part) => part.spans.length > 0);
}
