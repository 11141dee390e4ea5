import { formatQuantity } from '../../../../shared/quantity.js';
import type { LinkGroup, LotBorn, Movement, Place, PlantFact, StatusChange } from '../stock/effects.facts.js';
import { amountOf, counted, type Known, partOf, piecesOf } from './words.facts.js';

const MOST_LINES = 100;

/** What an entry did to lots, a line each: born, moved, status, links. A long list is cut with a count of the rest. */
export function sayEffects(fact: PlantFact, known: Known): string[] {
  const lines = [
    ...(fact.born ?? []).map(sayBorn),
    ...(fact.moved ?? []).map((movement) => sayMovement(movement, known)),
    ...(fact.restatused ?? []).map(sayStatus),
    ...(fact.linked ?? []).flatMap((group) => sayLinks(group, known)),
    ...(fact.voided ?? []).map((link) => `Link ${link.ord} of entry ${link.seq} no longer counts`),
  ];
  return lines.length <= MOST_LINES ? lines : [...lines.slice(0, MOST_LINES), `and ${lines.length - MOST_LINES} more`];
}

function sayBorn(lot: LotBorn): string {
  const amount = lot.pieces === null ? `${formatQuantity(lot.quantityMicro)} ${lot.unit}` : counted(lot.pieces, 'piece');
  return `Lot ${lot.lot}: ${amount} of ${lot.item}, ${sayPlace(lot.place)}, ${STATUS[lot.status]}`;
}

const STATUS: Readonly<Record<string, string>> = { quarantine: 'in quarantine', released: 'released', 'not-accepted': 'not accepted' };

const FATES: Readonly<Record<string, string>> = {
  'on-hand': 'at',
  consumed: 'used by',
  dispatched: 'dispatched in',
  scrapped: 'scrapped by',
  retained: 'kept as a retain sample at',
  'destroyed-in-test': 'destroyed in test',
  'returned-to-supplier': 'returned to the supplier with',
  'count-difference': 'counted as a difference by',
};

const sayPlace = (place: Place): string => `${FATES[place.fate] ?? place.fate} ${place.at}`;

const sayMovement = (movement: Movement, known: Known): string =>
  `${partOf(movement, known)}: ${sayPlace(movement.from)} before, ${sayPlace(movement.to)} now`;

const sayStatus = (change: StatusChange): string =>
  `${change.spans === null ? change.lot : `${piecesOf(change.spans)} of ${change.lot}`} ${change.spans === null ? 'is' : 'are'} ${STATUS[change.status]}`;

function sayLinks(group: LinkGroup, known: Known): string[] {
  return group.links.map((link) => {
    const from = link.fromSpan
      ? `${piecesOf([link.fromSpan])} of ${link.from}`
      : `${amountOf(link.from, link.quantityMicro, known)} of ${link.from}`;
    const to = link.toSpan ? `${piecesOf([link.toSpan])} of ${link.to}` : link.to;
    return `${group.run}: ${from} went into ${to}${link.map === 'each' ? ', piece into piece' : ''}`;
  });
}
