import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import { catalogueOf } from '../catalogue/catalogue.query.js';
import type { CatalogueKinds, Item } from '../catalogue/catalogue.facts.js';
import { personStates } from '../people/people.query.js';
import type { FoundKind } from './find.dto.js';
import { bestRank, type Match, type Matches } from './matching.js';

/** GTINs of 8 to 14 digits are the same number with zeros before it. */
const sameGtin = (a: string, b: string): boolean => a.padStart(14, '0') === b.padStart(14, '0');

/** The item that bears a GTIN, or undefined. */
export async function itemOfGtin(from: EntityManager, gtin: string): Promise<Item | undefined> {
  return (await catalogueOf(from, 'item')).find((item) => item.gtin !== undefined && sameGtin(item.gtin, gtin));
}

/** An item as it is found. */
export const itemFound = (item: Item): Match['found'] => ({
  kind: 'item',
  code: item.code,
  of: null,
  lot: null,
  supplier: null,
  piece: null,
  says: `${item.name}, ${item.class}`,
});

interface Named {
  readonly code: string;
  readonly names: readonly (string | null | undefined)[];
  readonly says: string;
}

function matchesOf(kind: FoundKind, all: readonly Named[], asked: string): Matches {
  const matches = all.flatMap(({ code, names, says }): Match[] => {
    const rank = bestRank(code, asked, names);
    return rank === null ? [] : [{ rank, found: { kind, code, of: null, lot: null, supplier: null, piece: null, says } }];
  });
  return { matches, total: matches.length };
}

/** Things with a name of their own that fit what was typed: items, parties, places, instruments and people. */
export async function findNamed(from: EntityManager, asked: string): Promise<Matches[]> {
  const items = await catalogueOf(from, 'item');
  const of = async <K extends 'party' | 'vessel' | 'line' | 'location' | 'instrument'>(
    kind: K,
    says: (record: CatalogueKinds[K]) => string,
  ): Promise<Matches> => {
    const records = await catalogueOf(from, kind);
    return matchesOf(
      kind,
      records.map((record) => ({ code: record.code, names: [record.name], says: says(record) })),
      asked,
    );
  };
  return [
    matchesOf(
      'item',
      items.map((item) => ({ code: item.code, names: [item.name], says: itemFound(item).says })),
      asked,
    ),
    gtins(items, asked),
    await of('party', (party) => `${party.name}, ${party.role === 'both' ? 'supplier and customer' : party.role}`),
    await of('vessel', (vessel) => vessel.name),
    await of('line', (line) => line.name),
    await of('instrument', (instrument) => `${instrument.name}, ${instrument.kind}${instrument.use === 'withdrawn' ? ', withdrawn' : ''}`),
    await of('location', (location) => `${location.name}, ${location.use}`),
    await people(from, asked),
  ];
}

/** A GTIN is found with and without the zeros before it. */
function gtins(items: readonly Item[], asked: string): Matches {
  const matches = items.flatMap((item): Match[] => {
    if (item.gtin === undefined) return [];
    const same = /^\d{8,14}$/.test(asked) && sameGtin(item.gtin, asked);
    const rank = same ? 0 : bestRank(item.gtin, asked, []);
    return rank === null ? [] : [{ rank, found: { ...itemFound(item), kind: 'gtin', code: item.gtin, of: item.code } }];
  });
  return { matches, total: matches.length };
}

async function people(from: EntityManager, asked: string): Promise<Matches> {
  const states = await personStates(from);
  const names = await queryRows<{ person: string; display_name: string | null }>(
    from,
    'SELECT "person", "display_name" FROM "person_account"',
  );
  const nameOf = new Map(names.map((row) => [row.person, row.display_name]));
  return matchesOf(
    'person',
    states.map(({ person, roles, blocked }) => ({
      code: person,
      names: [nameOf.get(person)],
      says: [nameOf.get(person) ?? person, ...roles, ...(blocked ? ['blocked'] : [])].join(', '),
    })),
    asked,
  );
}
