/** How the pieces of a link's two sides answer to each other; see docs/glossary.md, link. Never guessed from lengths. */
type LinkMap = 'all' | 'each';

/**
 * One genealogy edge: pieces or quantity of one lot went into pieces or the whole of another. Its identity is (seq, ord),
 * the ledger entry that recorded it and its place within that entry. A bulk side has first and last 0; a numbered side
 * always names its pieces. `massMicro` is the blending mass in millionths of a kilogram, 0 where the material does not blend.
 */
export interface Link {
  readonly seq: number;
  readonly ord: number;
  readonly fromLot: number;
  readonly fromFirst: number;
  readonly fromLast: number;
  readonly toLot: number;
  readonly toFirst: number;
  readonly toLast: number;
  readonly quantityMicro: number;
  readonly massMicro: number;
  readonly map: LinkMap;
  readonly blends: boolean;
}

/** A link as it stands in the index; `voidedAt` is the ledger entry that voided it. */
export interface KnownLink extends Link {
  readonly voidedAt: number | null;
}

/** The index was told something that cannot be: a bug in the caller or a ledger that contradicts itself, never a plant's mistake. */
export class GenealogyFault extends Error {
  override name = 'GenealogyFault';
}

/** Lot ids share a 32-bit word with four flags. */
export const MAX_LOT = 0x0fff_ffff;
const MAX_UINT32 = 0xffff_ffff;

const isCount = (value: number, least: number, most: number): boolean => Number.isInteger(value) && value >= least && value <= most;

function sideFault(side: string, first: number, last: number, pieces: number): string | null {
  if (pieces === 0) return first === 0 && last === 0 ? null : `${side} is a bulk lot but pieces ${first}-${last} are named`;
  if (!isCount(first, 1, pieces) || !isCount(last, first, pieces)) return `${side} pieces ${first}-${last} are not within 1-${pieces}`;
  return null;
}

/**
 * Says what is wrong with a link, or null.
 * @param fromPieces pieces of the from lot, 0 for bulk, -1 if the lot is not known
 */
export function linkFault(link: Link, fromPieces: number, toPieces: number): string | null {
  if (!isCount(link.seq, 1, MAX_UINT32) || !isCount(link.ord, 0, MAX_UINT32)) return 'seq or ord is not a whole number in range';
  if (fromPieces < 0) return `from lot ${link.fromLot} is not known`;
  if (toPieces < 0) return `to lot ${link.toLot} is not known`;
  const side = sideFault('from', link.fromFirst, link.fromLast, fromPieces) ?? sideFault('to', link.toFirst, link.toLast, toPieces);
  if (side !== null) return side;
  if (!Number.isSafeInteger(link.quantityMicro) || link.quantityMicro < 0) return 'quantity is not a whole number of millionths';
  if (!Number.isSafeInteger(link.massMicro) || link.massMicro < 0) return 'mass is not a whole number of millionths';
  if (!link.blends && link.massMicro > 0) return 'a link that does not blend has no blending mass';
  if (link.map === 'each' && (fromPieces === 0 || toPieces === 0)) return 'each needs pieces on both sides';
  if (link.map === 'each' && link.fromLast - link.fromFirst !== link.toLast - link.toFirst)
    return 'each needs as many pieces on both sides';
  return null;
}
