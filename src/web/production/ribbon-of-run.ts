import type { RibbonInput, RibbonPart, RibbonStrip } from '../../../shared/ribbon-layout.js';
import { MICRO, parseQuantity } from '../../../shared/quantity.js';
import { intersectSpans, parseSpans, type SpanSet, spanSet, unionSpans, wholeLot } from '../../../shared/spans.js';
import type { Run, RunCharge } from './run.js';

type Changeover = Pick<Run['changeovers'][number], 'item' | 'lot' | 'fromPiece'>;

/** How many pieces the ribbon has: what came out, or while it runs what is planned and every piece that was spoken of. */
export function piecesOf(run: Run): number {
  if (run.yields) return run.yields.pieces ?? 0;
  const planned = run.planned === null ? 0 : Math.floor(parseQuantity(run.planned) / MICRO);
  const into = run.charges.flatMap((charge) => charge.into.map(({ intoPieces }) => parseSpans(intoPieces).at(-1)?.[1] ?? 0));
  return Math.max(planned, ...run.changeovers.map(({ fromPiece }) => fromPiece), ...into);
}

/**
 * Over which pieces each lot of one component is in use, as the server works it out when the run is closed: a changeover runs to the next, a
 * lot without one was there from the start. @see docs/rules/production.md P-21 to P-23
 */
export function inUse(lots: readonly string[], changeovers: readonly Changeover[], pieces: number): Map<string, SpanSet> {
  const points = [...new Set(changeovers.map(({ fromPiece }) => fromPiece))].filter((point) => point <= pieces).toSorted((a, b) => a - b);
  const spans = new Map<string, SpanSet>();
  points.forEach((point, i) => {
    const last = (points[i + 1] ?? pieces + 1) - 1;
    for (const { lot } of changeovers.filter(({ fromPiece }) => fromPiece === point)) {
      spans.set(lot, unionSpans(spans.get(lot) ?? [], [[point, last]]));
    }
  });
  const first = points[0] ?? pieces + 1;
  for (const lot of lots.filter((one) => !spans.has(one))) spans.set(lot, spanSet([[1, first > 1 ? first - 1 : pieces]]));
  return spans;
}

const told = (charge: RunCharge): SpanSet =>
  charge.into.reduce<SpanSet>((sum, { intoPieces }) => unionSpans(sum, parseSpans(intoPieces)), []);

function stripOf(run: Run, item: string, pieces: number, changeovers: readonly Changeover[]): RibbonStrip {
  const charges = run.charges.filter((charge) => charge.item === item && charge.quantity !== '0');
  const exact = charges.filter((charge) => charge.into.length > 0);
  const rest = [...new Set(charges.filter((charge) => charge.into.length === 0).map(({ lot }) => lot))];
  const ofItem = changeovers.filter((changeover) => changeover.item === item);
  const by = inUse(rest, ofItem, pieces);
  const byLot = new Map<string, SpanSet>();
  const add = (lot: string, spans: SpanSet): void =>
    void byLot.set(lot, unionSpans(byLot.get(lot) ?? [], intersectSpans(spans, wholeLot(pieces))));
  for (const charge of exact) add(charge.lot, told(charge));
  for (const lot of rest) add(lot, by.get(lot) ?? []);
  const parts = [...byLot].map(([label, spans]): RibbonPart => ({ label, kind: 'input', spans })).filter(({ spans }) => spans.length > 0);
  return { label: charges[0]?.name ?? item, parts };
}

/**
 * A run as its ribbon: under the pieces one strip for each component, with changeovers as cuts; above them what was rejected.
 * @param more changeovers that are about to be recorded: shown before they are
 * @param rejected pieces about to be rejected; left out, those that were
 */
export function ribbonOfRun(run: Run, more: readonly Changeover[] = [], rejected?: SpanSet, pieces = piecesOf(run)): RibbonInput {
  if (pieces < 1) return { pieces: 0, above: [], below: [] };
  const out = intersectSpans(rejected ?? (run.result?.rejected ? parseSpans(run.result.rejected) : []), wholeLot(pieces));
  const items = [...new Set([...run.components.map(({ item }) => item), ...run.charges.map(({ item }) => item)])];
  const below = items.map((item) => stripOf(run, item, pieces, [...run.changeovers, ...more])).filter(({ parts }) => parts.length > 0);
  return {
    pieces,
    above: out.length === 0 ? [] : [{ label: 'Rejected', parts: [{ label: 'rejected', kind: 'scrap', spans: out }] }],
    below,
  };
}
