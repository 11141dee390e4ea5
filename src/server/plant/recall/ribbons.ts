import { type RibbonLink, ribbonOfLot } from '../../../../shared/ribbon-of-lot.js';
import { countPieces, type SpanSet } from '../../../../shared/spans.js';
import type { LotRibbon } from '../../documents/recall-report.types.js';
import type { KnownLink } from '../../trace/link.js';
import type { Figures } from './figures.query.js';
import type { KnownHold, KnownLot } from './known-at.query.js';

/** Lots shown piece by piece. */
const MOST_RIBBONS = 12;

/** What a ribbon is drawn from, besides the figures. */
interface RibbonGround {
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
  const affectedLots = new Map<string, SpanSet | null>([...figures.affected].map(([id, spans]) => [figures.lots.get(id)!.lot, spans]));
  return lotsForRibbons(figures).map((lot) => ({
    lot: lot.lot,
    itemName: lot.itemRecord?.name ?? lot.item,
    note: lot.origin === 'made' ? `made by ${lot.source}` : null,
    ribbon: ribbonOfLot({
      pieces: lot.pieces!,
      affected: figures.affected.get(lot.id) ?? [],
      places: figures.places
        .filter((place) => place.lotId === lot.id)
        .map(({ fate, at, spans }) => ({ fate, at, customer: figures.customers.get(at) ?? null, spans: spans ?? [] })),
      marks: ground.holds.filter((hold) => hold.lotId === lot.id).map((hold) => ({ kind: 'held', label: hold.hold, spans: hold.spans })),
      inputs: ground.linksInto(lot.id).map((link) => inputOf(link, ground.sources.get(link.fromLot)!)),
      outputs: [],
      affectedLots,
    }),
  }));
}

const inputOf = (link: KnownLink, source: KnownLot): RibbonLink => ({
  lot: source.lot,
  item: source.item,
  itemName: source.itemRecord?.name ?? source.item,
  here: [link.toFirst, link.toLast],
  there: link.fromFirst === 0 ? null : [link.fromFirst, link.fromLast],
  map: link.map,
});
