import type { Link } from '../../src/server/trace/link.js';
import { Genealogy } from '../../src/server/trace/genealogy.js';
import type { OracleLink, OraclePlant } from '../oracle.js';

/** Some masses are the quantity and some are not, as with kilograms and litres. */
export const linkFor = (link: OracleLink): Link => ({
  ...link,
  quantityMicro: link.massMicro + (link.massMicro % 3),
  blends: link.massMicro > 0,
});

/** The last entry of a plant's ledger, links and voids. */
export const lastSeq = (plant: OraclePlant): number => Math.max(1, ...plant.links.map(({ seq, voidedAt }) => Math.max(seq, voidedAt ?? 0)));

/** Voids in the order of the entries that made them. */
export const voidsOf = (plant: OraclePlant): OracleLink[] =>
  plant.links.filter(({ voidedAt }) => voidedAt !== null).toSorted((a, b) => a.voidedAt! - b.voidedAt!);

/**
 * The index of a plant.
 * @param packed how many links are taken into the packed rows before the rest is appended; the rest waits in the delta
 */
export function indexOf(plant: OraclePlant, packed = plant.links.length): Genealogy {
  const genealogy = new Genealogy();
  for (let lot = 1; lot < plant.pieces.length; lot++) genealogy.addLot(lot, plant.pieces[lot]!);
  const cut = plant.links[packed]?.seq ?? lastSeq(plant);
  for (const link of plant.links.filter(({ seq }) => seq < cut)) genealogy.append(linkFor(link));
  for (const { seq, ord, voidedAt } of voidsOf(plant)) if (voidedAt! < cut) genealogy.voidLink(seq, ord, voidedAt!);
  genealogy.commitUpTo(cut - 1);
  genealogy.compact();
  for (const link of plant.links.filter(({ seq }) => seq >= cut)) genealogy.append(linkFor(link));
  for (const { seq, ord, voidedAt } of voidsOf(plant)) if (voidedAt! >= cut) genealogy.voidLink(seq, ord, voidedAt!);
  genealogy.commitUpTo(lastSeq(plant));
  return genealogy;
}
