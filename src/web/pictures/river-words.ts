import type { Fold } from '../../../shared/trace-fold.js';
import { isEnd, type RiverNode } from '../../../shared/trace-graph.js';
import type { PlacedNode, River } from '../../../shared/trace-layout.js';
import { capital, writtenCount, writtenDate, writtenQuantity, writtenShare } from '../../../shared/written.js';

/** Kinds of nodes as people call them, one and several. */
const KINDS: Readonly<Record<string, readonly [one: string, several: string]>> = {
  'raw-material': ['raw material lot', 'raw material lots'],
  packaging: ['packaging lot', 'packaging lots'],
  component: ['component lot', 'component lots'],
  mixture: ['batch', 'batches'],
  filled: ['filled lot', 'filled lots'],
  assembled: ['lot of units', 'lots of units'],
  customer: ['customer', 'customers'],
  lot: ['lot', 'lots'],
  'supplier-lot': ['supplier’s lot', 'suppliers’ lots'],
  batch: ['batch', 'batches'],
  whereabouts: ['place', 'places'],
};

/** A kind of node in words: `batches`. Fates are words already. */
export const kindWords = (kind: string, count: number): string => KINDS[kind]?.[count === 1 ? 0 : 1] ?? kind;

/** What a fold is called: `34 × batches`. From when to when they are is said beside it. */
export const foldLabel = ({ kind, count }: Fold): string => `${writtenCount(count)} × ${kindWords(kind, count)}`;

/** From when to when, in as few words as say it: `1–28 Feb 2026`, `1 Jan – 28 Feb 2026`. */
function datesWords(from: string, until: string): string {
  const [first, last] = [writtenDate(from), writtenDate(until)];
  if (first === last) return first;
  const [[day, month, year], [, month2, year2]] = [first.split(/\s/u), last.split(/\s/u)];
  if (year !== year2) return `${first} – ${last}`;
  return month === month2 ? `${day}–${last}` : `${day} ${month} – ${last}`;
}

/** The quieter line of a node: what it is; of a fold, from when to when or from which to which. */
export function noteOf(node: PlacedNode, labelOf: (id: string) => string): string {
  if (node.foldedCount === 1) return node.note ?? '';
  if (node.at !== null && node.until !== null) return datesWords(node.at, node.until);
  const [first, last] = [node.members[0] ?? '', node.members.at(-1) ?? ''].map(labelOf);
  return `${first} to ${last}`;
}

/** How much of a node is inked, in words that need no picture. @param inked what ink says: `affected` */
function touchedWords({ affectedShare }: Pick<RiverNode, 'affectedShare'>, inked: string): string {
  if (affectedShare === null) return `${inked}, nobody can say how far`;
  if (affectedShare === 0) return `not ${inked}`;
  return affectedShare === 1 ? inked : `${inked} to ${writtenShare(affectedShare)}`;
}

/** What a node that is no single lot says of itself. */
export function tellNode(node: PlacedNode, labelOf: (id: string) => string, inked: string): string[] {
  const amount = node.quantityMicro > 0 && node.unit !== undefined ? writtenQuantity(node.quantityMicro, node.unit) : '';
  const inner = node.innerCount > 0 ? `${writtenCount(node.innerCount)} links between them` : '';
  return [noteOf(node, labelOf), amount, touchedWords(node, inked), inner].filter((part) => part !== '');
}

/** The name of a node for those who hear it. */
export function spokenName(node: PlacedNode, labelOf: (id: string) => string, inked: string): string {
  const what = node.foldedCount > 1 ? 'folded' : kindWords(node.kind, 1);
  return [node.label, noteOf(node, labelOf), what, touchedWords(node, inked)].filter((part) => part !== '').join(', ');
}

/** What stands over each column: where it came from, what was made on the way, where it is now. */
export function columnHeads({ nodes, columns }: River): string[] {
  return Array.from({ length: columns }, (_, i) => {
    const here = nodes.filter(({ column }) => column === i);
    if (columns > 1 && i === columns - 1 && here.some((node) => isEnd(node))) return 'Where it is now';
    if (columns > 1 && i === 0) return 'Where it came from';
    const kinds = [...new Set(here.map(({ kind }) => kindWords(kind, 2)))];
    return kinds.length > 2 ? 'Made on the way' : capital(kinds.join(', '));
  });
}
