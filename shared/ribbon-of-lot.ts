import type { LotPicture } from './api/lot-picture.js';
import type { RibbonInput, RibbonPart, RibbonStrip } from './ribbon-layout.js';
import { countPieces, intersectSpans, parseSpans, type Span, type SpanSet, spanSet, subtractSpans, unionSpans, wholeLot } from './spans.js';

/** Parts of one strip that are named one by one. */
const MOST_PARTS = 40;

/** A numbered lot as its ribbon is drawn: on screen from the answer about a lot, in print from a recall's figures. */
interface RibbonLot {
  readonly pieces: number;
  /** Pieces that a trace reached. */
  readonly affected: SpanSet;
  readonly places: readonly RibbonPlace[];
  /** What the pieces are stamped with, where not all of them are free: null is the whole lot. */
  readonly marks: readonly RibbonMark[];
  readonly inputs: readonly RibbonLink[];
  /** Lots that pieces went into, where they did. */
  readonly outputs: readonly RibbonLink[];
  /** What a trace reached of other lots, by code; null: all of a bulk lot. */
  readonly affectedLots: ReadonlyMap<string, SpanSet | null>;
}

interface RibbonPlace {
  readonly fate: string;
  readonly at: string;
  /** Who has it, where it was dispatched. */
  readonly customer: string | null;
  readonly spans: SpanSet;
}

interface RibbonMark {
  readonly kind: 'held' | 'nonconforming' | 'quarantine' | 'not-accepted';
  readonly label: string;
  readonly spans: SpanSet | null;
}

/** A link to another lot: `here` are pieces of this lot, `there` those of the other; null for a bulk one. */
export interface RibbonLink {
  readonly lot: string;
  readonly item: string;
  readonly itemName: string;
  readonly here: Span;
  readonly there: Span | null;
  readonly map: 'all' | 'each';
}

const MARKS: readonly { readonly kind: RibbonMark['kind']; readonly strip: string }[] = [
  { kind: 'quarantine', strip: 'Not released' },
  { kind: 'not-accepted', strip: 'Not released' },
  { kind: 'held', strip: 'Holds' },
  { kind: 'nonconforming', strip: 'Reports' },
];
const KINDS: Readonly<Record<string, string>> = { 'on-hand': 'on-hand', scrapped: 'scrap', retained: 'retain' };

/**
 * What a numbered lot's ribbon shows: above the bar where its pieces went and what stands against them, below it what they were made of,
 * one strip an item. Strips that would be empty are left out; a strip of very many parts names the largest and sums the rest.
 */
export function ribbonOfLot(lot: RibbonLot): RibbonInput {
  return { pieces: lot.pieces, affected: lot.affected, above: above(lot), below: linkStrips(lot.inputs, 'input', lot) };
}

/**
 * The ribbon's lot from what the server answers about a numbered lot, or null for a bulk one.
 * @param affected what a trace reached, by lot; left out: nothing is inked
 * @throws SpanFault when the answer holds piece numbers that cannot be read
 */
export function ribbonLotOf(
  { lot, pieces, places, stamps, holds, reports, madeFrom, wentInto }: LotPicture,
  affected: ReadonlyMap<string, SpanSet | null> = new Map<string, SpanSet | null>(),
): RibbonLot | null {
  if (pieces === null) return null;
  const spansOf = (text: string | null): SpanSet | null => (text === null ? null : parseSpans(text));
  const stamped: RibbonMark[] = stamps.flatMap(({ stamp, pieces: of }) =>
    stamp === 'QUARANTINE' || stamp === 'NOT ACCEPTED'
      ? [{ kind: stamp === 'QUARANTINE' ? 'quarantine' : 'not-accepted', label: stamp.toLowerCase(), spans: spansOf(of) } as const]
      : [],
  );
  const links = (of: LotPicture['madeFrom'], here: 'fromPieces' | 'toPieces'): RibbonLink[] =>
    of.flatMap((link) => {
      const [mine] = spansOf(link[here]) ?? [];
      const [theirs] = spansOf(link[here === 'toPieces' ? 'fromPieces' : 'toPieces']) ?? [];
      if (mine === undefined) return [];
      return [{ lot: link.lot, item: link.item, itemName: link.itemName, here: mine, there: theirs ?? null, map: link.map }];
    });
  return {
    pieces,
    affected: affected.get(lot) ?? [],
    places: places.map(({ fate, at, customer, pieces: of }) => ({ fate, at, customer, spans: spansOf(of) ?? [] })),
    marks: [
      ...stamped,
      ...holds.map(({ hold, pieces: of }): RibbonMark => ({ kind: 'held', label: hold, spans: spansOf(of) })),
      ...reports
        .filter(({ open }) => open)
        .map(({ report, pieces: of }): RibbonMark => ({ kind: 'nonconforming', label: report, spans: spansOf(of) })),
    ],
    inputs: links(madeFrom, 'toPieces'),
    outputs: links(wentInto, 'fromPieces'),
    affectedLots: affected,
  };
}

function above(lot: RibbonLot): RibbonStrip[] {
  const { affected } = lot;
  const customers = new Map<string, SpanSet>();
  const here: RibbonPart[] = [];
  for (const { fate, at, customer, spans } of lot.places) {
    if (fate === 'dispatched') customers.set(customer ?? at, unionSpans(customers.get(customer ?? at) ?? [], spans));
    else if (fate !== 'consumed') here.push(...split(fate === 'on-hand' ? at : `${fate} ${at}`, KINDS[fate] ?? fate, spans, affected));
  }
  const sent = [...customers].flatMap(([customer, spans]) => split(customer, 'customer', spans, affected));
  const marked = new Map(MARKS.map(({ strip }) => [strip, [] as RibbonPart[]]));
  for (const { kind, strip } of MARKS) {
    const of = lot.marks.filter((mark) => mark.kind === kind);
    marked.get(strip)!.push(...of.map(({ label, spans }) => ({ label, kind, spans: spans ?? wholeLot(lot.pieces), affected: true })));
  }
  return [
    { label: 'Customers', parts: most(sent) },
    ...linkStrips(lot.outputs, 'output', lot).map(({ label, parts }) => ({ label: `Into ${label}`, parts })),
    { label: 'Not sent', parts: most(here) },
    ...[...marked].map(([label, parts]) => ({ label, parts: most(parts) })),
  ].filter(({ parts }) => parts.length > 0);
}

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

/** One strip for each item at the other end. */
function linkStrips(links: readonly RibbonLink[], kind: 'input' | 'output', lot: RibbonLot): RibbonStrip[] {
  const byItem = new Map<string, { label: string; lots: Map<string, { label: string; spans: Span[]; affected: boolean }> }>();
  for (const link of links) {
    const strip = byItem.get(link.item) ?? {
      label: link.itemName,
      lots: new Map<string, { label: string; spans: Span[]; affected: boolean }>(),
    };
    byItem.set(link.item, strip);
    for (const { spans, affected } of kind === 'input' ? reachedHere(link, lot.affectedLots) : carriedOn(link, lot.affected)) {
      const key = `${link.lot}\u0000${affected}`;
      const part = strip.lots.get(key) ?? { label: link.lot, spans: [], affected };
      part.spans.push(...spans);
      strip.lots.set(key, part);
    }
  }
  return [...byItem]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([, { label, lots }]) => ({
      label,
      parts: most([...lots.values()].map(({ label: of, spans, affected }) => ({ label: of, kind, spans: spanSet(spans), affected }))),
    }));
}

interface Reached {
  readonly spans: SpanSet;
  readonly affected: boolean;
}

const both = (hit: SpanSet, all: SpanSet): Reached[] =>
  [
    { spans: hit, affected: true },
    { spans: subtractSpans(all, hit), affected: false },
  ].filter(({ spans }) => spans.length > 0);

/** The pieces that an input went into: those it brings affected material to, and those it does not. */
function reachedHere({ lot, here, there, map }: RibbonLink, affectedLots: RibbonLot['affectedLots']): Reached[] {
  const to: SpanSet = [here];
  const source = affectedLots.get(lot);
  if (source === undefined) return [{ spans: to, affected: false }];
  if (source === null || there === null) return [{ spans: to, affected: true }];
  const from = intersectSpans(source, [there]);
  if (map === 'all') return [{ spans: to, affected: from.length > 0 }];
  const shift = here[0] - there[0];
  return both(
    from.map(([first, last]): Span => [first + shift, last + shift]),
    to,
  );
}

/** The pieces that went into another lot, the affected ones apart. */
const carriedOn = ({ here }: RibbonLink, affected: SpanSet): Reached[] => both(intersectSpans(affected, [here]), [here]);
