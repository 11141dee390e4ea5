import { mulDivMicro } from '../../../../shared/quantity.js';
import { countPieces, intersectSpans, type Span, type SpanSet, spanSet, subtractSpans, unionSpans } from '../../../../shared/spans.js';
import type { LinkGroup, LinkMade, PieceMap } from '../stock/effects.facts.js';
import type { Changeover, Into } from './run.facts.js';
import { chargedNet, type ChargeState, type NetCharge, type RunState } from './run-state.facts.js';

/** The lot a run yields, as links name it. */
interface Yielded {
  readonly lot: string;
  /** N of a numbered lot, null for a bulk one. */
  readonly pieces: number | null;
}

/** What the genealogy of a run follows from. */
type RunInputs = Pick<RunState, 'run' | 'kind' | 'charges' | 'changeovers' | 'residues'>;

interface Stretch {
  readonly fromSpan: Span | null;
  readonly toSpan: Span | null;
  readonly map: PieceMap;
  /** By which quantity and mass are shared out among the stretches of one charge. */
  readonly weight: number;
}

interface TimedLink {
  readonly at: string;
  readonly link: LinkMade;
}

/**
 * Every link of a run, from what was charged, where changeovers fell and what clung to the vessel. A pure consequence of those: put them
 * right, work it out again, and the difference is what has to be voided and what has to be recorded late.
 * @see docs/rules/production.md P-20 to P-26
 */
export function runLinks(run: RunInputs, yielded: Yielded, finishedAt: string): LinkGroup[] {
  const made = yielded.pieces === null ? intoBulk(run, yielded.lot) : intoPieces(run, yielded.lot, yielded.pieces);
  const charged = new Set(made.map(({ link }) => link.from));
  for (const { lot } of run.residues) {
    if (charged.has(lot)) continue; // charged as heel: that link says more
    charged.add(lot);
    const toSpan: Span | null = yielded.pieces === null ? null : [1, yielded.pieces];
    made.push({ at: finishedAt, link: { from: lot, fromSpan: null, to: yielded.lot, toSpan, quantityMicro: 0, massMicro: 0, map: 'all' } });
  }
  const times = [...new Set(made.map(({ at }) => at))].toSorted();
  return times.map((at) => ({ run: run.run, kind: run.kind, at, links: made.filter((timed) => timed.at === at).map(({ link }) => link) }));
}

function intoBulk(run: RunInputs, to: string): TimedLink[] {
  return chargedNet(run.charges).flatMap(({ charge, net }) => {
    const stretches = net.spans === null ? [wholeBulk] : net.spans.map((span) => stretch(span, null, 'all', size(span)));
    return shareOut(charge.lot, to, net, stretches).map((link) => ({ at: charge.chargedAt, link }));
  });
}

const wholeBulk: Stretch = { fromSpan: null, toSpan: null, map: 'all', weight: 1 };
const stretch = (fromSpan: Span | null, toSpan: Span | null, map: PieceMap, weight: number): Stretch => ({ fromSpan, toSpan, map, weight });
const size = ([first, last]: Span): number => last - first + 1;

/** Divides quantity and mass over the stretches by weight, so that the parts add up to the whole exactly. */
function shareOut(from: string, to: string, net: NetCharge, stretches: readonly Stretch[]): LinkMade[] {
  const total = stretches.reduce((sum, { weight }) => sum + weight, 0);
  let before = 0;
  return stretches.map(({ fromSpan, toSpan, map, weight }) => {
    const part = (of: number) => mulDivMicro(of, before + weight, total) - mulDivMicro(of, before, total);
    const link: LinkMade = { from, fromSpan, to, toSpan, quantityMicro: part(net.quantityMicro), massMicro: part(net.massMicro), map };
    before += weight;
    return link;
  });
}

/** Into a numbered lot: what was told piece by piece as told, the rest by changeovers. */
function intoPieces(run: RunInputs, to: string, pieces: number): TimedLink[] {
  const made: TimedLink[] = [];
  const rest: { charge: ChargeState; net: NetCharge }[] = [];
  for (const { charge, net } of chargedNet(run.charges)) {
    const told = toldStretches(charge.into, net.spans);
    const untold = untoldPart(charge, net, told);
    const part = untold === null ? net : minus(net, untold);
    if (told.length > 0) for (const link of shareOut(charge.lot, to, part, told)) made.push({ at: charge.chargedAt, link });
    if (untold !== null) rest.push({ charge, net: untold });
  }
  return [...made, ...byChangeover(rest, run.changeovers, to, pieces)];
}

/** The told mapping, without pieces that came back. */
function toldStretches(into: readonly Into[], kept: SpanSet | null): Stretch[] {
  return into.flatMap(({ fromSpan, toSpan, map }) => {
    if (fromSpan === null || kept === null) return [stretch(null, toSpan, map, size(toSpan))];
    return intersectSpans([fromSpan], kept).map((span) => {
      if (map === 'all') return stretch(span, toSpan, 'all', size(span) * size(toSpan));
      const offset = toSpan[0] - fromSpan[0];
      return stretch(span, [span[0] + offset, span[1] + offset], 'each', size(span));
    });
  });
}

/** What of a charge no mapping speaks of; null when all of it is told. */
function untoldPart(charge: ChargeState, net: NetCharge, told: readonly Stretch[]): NetCharge | null {
  if (told.length === 0) return net;
  if (net.spans === null) return null;
  const spans = subtractSpans(net.spans, toldFrom(told));
  const pieces = countPieces(spans);
  if (pieces === 0) return null;
  const all = countPieces(net.spans);
  return { spans, quantityMicro: mulDivMicro(net.quantityMicro, pieces, all), massMicro: mulDivMicro(net.massMicro, pieces, all) };
}

const toldFrom = (told: readonly Stretch[]): SpanSet =>
  told.reduce<SpanSet>((sum, { fromSpan }) => (fromSpan === null ? sum : unionSpans(sum, [fromSpan])), []);

const minus = (net: NetCharge, part: NetCharge): NetCharge => ({
  spans: net.spans === null ? null : subtractSpans(net.spans, part.spans ?? []),
  quantityMicro: net.quantityMicro - part.quantityMicro,
  massMicro: net.massMicro - part.massMicro,
});

function byChangeover(
  rest: readonly { charge: ChargeState; net: NetCharge }[],
  changeovers: readonly Changeover[],
  to: string,
  pieces: number,
): TimedLink[] {
  const made: TimedLink[] = [];
  for (const item of new Set(rest.map(({ charge }) => charge.item))) {
    const ofItem = rest.filter(({ charge }) => charge.item === item);
    const lots = [...new Set(ofItem.map(({ charge }) => charge.lot))];
    const { spans } = spansInUse(
      lots,
      changeovers.filter((changeover) => changeover.item === item),
      pieces,
    );
    for (const lot of lots) {
      const ofLot = ofItem.filter(({ charge }) => charge.lot === lot);
      const net = ofLot.map((one) => one.net).reduce(plus);
      const froms: readonly (Span | null)[] = net.spans ?? [null];
      const stretches = froms.flatMap((from) =>
        spans.get(lot)!.map((toSpan) => stretch(from, toSpan, 'all', size(toSpan) * (from === null ? 1 : size(from)))),
      );
      const at = ofLot.map(({ charge }) => charge.chargedAt).toSorted()[0]!;
      for (const link of shareOut(lot, to, net, stretches)) made.push({ at, link });
    }
  }
  return made;
}

const plus = (a: NetCharge, b: NetCharge): NetCharge => ({
  spans: a.spans === null ? null : unionSpans(a.spans, b.spans ?? []),
  quantityMicro: a.quantityMicro + b.quantityMicro,
  massMicro: a.massMicro + b.massMicro,
});

export interface InUse {
  /** The pieces each lot may be in. */
  readonly spans: ReadonlyMap<string, SpanSet>;
  /** Lots that no changeover tells apart. */
  readonly unsure: readonly string[];
  /** Pieces before the first changeover that no lot was charged for. */
  readonly uncovered: SpanSet;
}

/**
 * Over which pieces each lot of one component was in use. A changeover runs to the next; lots that change over at the same piece run side
 * by side; a lot without a changeover was there from the start. Where two lots have none, each may be in any of those pieces.
 */
export function spansInUse(lots: readonly string[], changeovers: readonly Changeover[], pieces: number): InUse {
  const points = [...new Set(changeovers.map(({ fromPiece }) => fromPiece))].filter((point) => point <= pieces).toSorted((a, b) => a - b);
  const spans = new Map<string, SpanSet>();
  points.forEach((point, i) => {
    const last = (points[i + 1] ?? pieces + 1) - 1;
    for (const { lot } of changeovers.filter(({ fromPiece }) => fromPiece === point)) {
      spans.set(lot, unionSpans(spans.get(lot) ?? [], spanSet([[point, last]])));
    }
  });
  const silent = lots.filter((lot) => !spans.has(lot));
  const first = points[0] ?? pieces + 1;
  for (const lot of silent) spans.set(lot, spanSet([[1, first > 1 ? first - 1 : pieces]]));
  return {
    spans,
    unsure: silent.length > 1 || first === 1 ? silent : [],
    uncovered: silent.length === 0 && first > 1 ? spanSet([[1, first - 1]]) : [],
  };
}
