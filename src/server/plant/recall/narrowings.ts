import { formatSpans, type SpanSet, subtractSpans, wholeLot } from '../../../../shared/spans.js';
import type { Narrowing as WrittenNarrowing } from '../../documents/recall-report.types.js';
import type { Narrowing } from '../../trace/evidence.js';
import type { KnownLink } from '../../trace/link.js';
import type { KnownLot } from './known-at.query.js';

/** More links than this behind one narrowing are summed up. */
export const MOST_LINKS = 12;

/** Where the narrow scope is smaller than the conservative one, and what that rests on, by lot code. */
export function writtenNarrowings(
  narrowings: readonly Narrowing[],
  lots: ReadonlyMap<number, KnownLot>,
  runs: ReadonlyMap<string, string>,
): WrittenNarrowing[] {
  return narrowings
    .map(({ lot: id, keptOut, links, through }) => {
      const lot = lots.get(id)!;
      const spans: SpanSet = lot.pieces === null ? [] : subtractSpans(wholeLot(lot.pieces), keptOut ?? []);
      return {
        lot: lot.lot,
        piecesOfLot: lot.pieces ?? 0,
        spans,
        evidence: [
          ...links.slice(0, MOST_LINKS).map((link) => linkInWords(link, lots, runs)),
          ...(links.length > MOST_LINKS ? [`and ${links.length - MOST_LINKS} more links that name pieces`] : []),
          ...throughInWords(through, lots),
        ],
      };
    })
    .toSorted((a, b) => (a.lot < b.lot ? -1 : 1));
}

const piecesInWords = (first: number, last: number): string => (first === 0 ? '' : `pieces ${formatSpans([[first, last]])} of `);

function linkInWords(link: KnownLink, lots: ReadonlyMap<number, KnownLot>, runs: ReadonlyMap<string, string>): string {
  const number = `${link.seq}.${link.ord}`;
  const from = `${piecesInWords(link.fromFirst, link.fromLast)}${lots.get(link.fromLot)!.lot}`;
  const to = `${piecesInWords(link.toFirst, link.toLast)}${lots.get(link.toLot)!.lot}`;
  const each = link.map === 'each' ? ', piece into piece' : '';
  return `Link ${number}, ${runs.get(number) ?? 'run not named'}: ${from} went into ${to}${each}`;
}

function throughInWords(through: readonly number[], lots: ReadonlyMap<number, KnownLot>): string[] {
  if (through.length === 0) return [];
  const codes = through.map((id) => lots.get(id)!.lot).toSorted();
  const named = codes.slice(0, MOST_LINKS).join(', ');
  const more = codes.length > MOST_LINKS ? ` and ${codes.length - MOST_LINKS} more` : '';
  return [`What else of it could be affected comes through ${named}${more}, which the narrow scope leaves out`];
}
