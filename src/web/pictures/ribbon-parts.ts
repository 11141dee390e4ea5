import type { Ribbon, RibbonInput, RibbonPart, RibbonRow, RibbonSegment } from '../../../shared/ribbon-layout.js';
import { coversSpans, countPieces, type Span, type SpanSet, spanSet, subtractSpans, wholeLot } from '../../../shared/spans.js';
import { inWords, writtenPieces, writtenSpans } from '../../../shared/written.js';

/** A place in the ribbon that keyboard or pointer is at: a row of the drawing and a piece. */
export interface Spot {
  readonly row: number;
  readonly piece: number;
}

/** The spot that an element of the drawing stands at. */
export function spotOf(target: EventTarget): Spot | null {
  const at = target instanceof Element ? target.closest('[data-at]')?.getAttribute('data-at') : null;
  if (!at) return null;
  const [row = 0, piece = 0] = at.split(' ').map(Number);
  return { row, piece };
}

/** What is at a spot: the part as the lot has it, and the stretch of it that is there, also where the drawing shows less of it. */
interface AtSpot {
  readonly row: RibbonRow;
  readonly part: RibbonPart;
  readonly run: Span;
}

/** The segment of a row that holds the piece, or the nearest one; -1 in a row of none. */
export function segmentAt(row: RibbonRow, piece: number): number {
  let best = -1;
  let bestAway = Infinity;
  for (const [i, { first, last }] of row.segments.entries()) {
    const away = piece < first ? first - piece : piece > last ? piece - last : 0;
    if (away < bestAway) [best, bestAway] = [i, away];
  }
  return best;
}

function partsOf(input: RibbonInput, row: RibbonRow): readonly RibbonPart[] {
  if (row.side !== 'bar') return input[row.side].find(({ label }) => label === row.label)?.parts ?? [];
  const affected = input.affected ?? [];
  return [
    { label: 'affected', kind: 'piece', spans: affected, affected: true },
    { label: '', kind: 'piece', spans: subtractSpans(wholeLot(input.pieces), affected), affected: false },
  ];
}

const isOf = (part: RibbonPart, { label, kind, affected, first, last }: RibbonSegment): boolean =>
  part.label === label && part.kind === kind && (part.affected ?? false) === affected && coversSpans(part.spans, [[first, last]]);

/** What is at a spot of the drawing, or null where nothing is. */
export function atSpot(input: RibbonInput, ribbon: Ribbon, spot: Spot | null): AtSpot | null {
  const row = spot === null ? undefined : ribbon.rows[spot.row];
  const segment = spot === null || row === undefined ? undefined : row.segments[segmentAt(row, spot.piece)];
  if (row === undefined || segment === undefined) return null;
  const part = partsOf(input, row).find((one) => isOf(one, segment));
  const run = part?.spans.find(([first, last]) => first <= segment.first && segment.last <= last);
  return part && run ? { row, part, run } : null;
}

const KINDS: Readonly<Record<string, string>> = {
  'on-hand': 'on hand',
  scrap: 'scrapped',
  retain: 'retained',
  held: 'held',
  nonconforming: 'nonconforming',
  'not-accepted': 'not accepted',
  quarantine: 'in quarantine',
  customer: 'dispatched',
  input: 'input',
  output: 'made of these',
};

/** What a kind of part is called. */
export const writtenKind = (kind: string): string => KINDS[kind] ?? inWords(kind);

/** What stands against pieces, rather than where they are or came from: it is always drawn as what matters. */
export const isMark = (kind: string): boolean => ['held', 'nonconforming', 'quarantine', 'not-accepted'].includes(kind);

/** A part in words, the same in the line under the picture and to those who come to it by ear. */
export function tellPart(row: string, label: string, kind: string, affected: boolean, run: Span): string {
  const words = [
    kind === 'piece' ? (affected ? 'Affected pieces' : 'Pieces') : `${row}: ${label}`,
    kind === 'piece' || kind === 'input' || kind === 'output' || kind === label ? '' : writtenKind(kind),
    `${run[0] === run[1] ? 'piece' : 'pieces'} ${writtenSpans([run])}`,
    writtenPieces(countPieces([run])),
    affected && kind !== 'piece' && !isMark(kind) ? 'affected' : '',
  ];
  return words.filter((word) => word !== '').join(' · ');
}

/** From the first to the last piece of a set, or null of none. */
export function hullOf(set: SpanSet): Span | null {
  const first = set[0]?.[0];
  const last = set.at(-1)?.[1];
  return first === undefined || last === undefined ? null : [first, last];
}

/** Everything between two stretches, and both. */
export const reaching = (a: Span, b: Span): SpanSet => spanSet([[Math.min(a[0], b[0]), Math.max(a[1], b[1])]]);

/**
 * Where an arrow key leads: to the next part of the row, or to the row above or below at the same piece. A piece outside the drawing
 * means that the row goes on there. Null when the key is none of these or there is nothing in that direction.
 */
export function stepTo(ribbon: Ribbon, spot: Spot, key: string, pieces: number): Spot | null {
  const row = ribbon.rows[spot.row];
  if (row === undefined) return null;
  const at = segmentAt(row, spot.piece);
  const here = row.segments[at];
  if (key === 'ArrowRight' || key === 'ArrowLeft') {
    const next = row.segments[key === 'ArrowRight' ? at + 1 : at - 1];
    if (next) return { row: spot.row, piece: next.first };
    const beyond = key === 'ArrowRight' ? (here?.last ?? pieces) + 1 : (here?.first ?? 1) - 1;
    return beyond < 1 || beyond > pieces ? null : { row: spot.row, piece: beyond };
  }
  if (key === 'Home') return { row: spot.row, piece: row.segments[0]?.first ?? spot.piece };
  if (key === 'End') return { row: spot.row, piece: row.segments.at(-1)?.first ?? spot.piece };
  const step = key === 'ArrowDown' ? 1 : key === 'ArrowUp' ? -1 : 0;
  if (step === 0) return null;
  for (let i = spot.row + step; i >= 0 && i < ribbon.rows.length; i += step) {
    if ((ribbon.rows[i]?.segments.length ?? 0) > 0) return { row: i, piece: spot.piece };
  }
  return null;
}
