import { useMemo } from 'react';
import { useLocation, useSearch } from 'wouter';
import type { paths } from '../wire/schema.js';

type LotQuery = NonNullable<paths['/api/lots']['get']['parameters']['query']>;
type Status = NonNullable<LotQuery['status']>;

/** What a list of lots is narrowed to; stands in the address, so that a list can be gone back to and passed on. */
export interface LotFilters {
  readonly query?: string;
  readonly item?: string;
  readonly supplier?: string;
  readonly class?: NonNullable<LotQuery['class']>;
  readonly origin?: NonNullable<LotQuery['origin']>;
  readonly location?: string;
  readonly status?: Status;
  readonly sort?: NonNullable<LotQuery['sort']>;
}

export const STATUSES: readonly { readonly value: Status; readonly says: string }[] = [
  { value: 'quarantine', says: 'in quarantine' },
  { value: 'released', says: 'released' },
  { value: 'not-accepted', says: 'not accepted' },
  { value: 'held', says: 'held' },
  { value: 'expired', says: 'expired' },
  { value: 'scrapped', says: 'scrapped, all or in part' },
];
/** Classes of items, from what is bought to what is sold. */
export const CLASSES: readonly { readonly value: NonNullable<LotQuery['class']>; readonly says: string }[] = [
  { value: 'raw-material', says: 'raw materials' },
  { value: 'packaging', says: 'packaging' },
  { value: 'component', says: 'components' },
  { value: 'mixture', says: 'mixtures' },
  { value: 'filled', says: 'filled' },
  { value: 'assembled', says: 'assembled' },
];
export const ORIGINS: readonly { readonly value: NonNullable<LotQuery['origin']>; readonly says: string }[] = [
  { value: 'received', says: 'received' },
  { value: 'made', says: 'made here' },
  { value: 'returned', says: 'came back' },
  { value: 'opening', says: 'brought over' },
];
export const SORTS: readonly { readonly value: NonNullable<LotQuery['sort']>; readonly says: string }[] = [
  { value: '-bornAt', says: 'newest first' },
  { value: 'expiresOn', says: 'expiring first' },
  { value: 'code', says: 'by code' },
];
const NAMES = ['query', 'item', 'class', 'supplier', 'origin', 'location', 'status', 'sort'] as const;

/** The filters of an address. */
function filtersOf(search: string): LotFilters {
  const asked = new URLSearchParams(search);
  return Object.fromEntries(NAMES.flatMap((name) => (asked.get(name) ? [[name, asked.get(name)]] : []))) as LotFilters;
}

/** The filters in the address and a way to change some of them. */
export function useLotFilters(): [LotFilters, (change: Partial<Record<keyof LotFilters, string>>) => void] {
  const search = useSearch();
  const [, go] = useLocation();
  const filters = useMemo(() => filtersOf(search), [search]);
  const change = (some: Partial<Record<keyof LotFilters, string>>): void => {
    const next = new URLSearchParams(search);
    for (const [name, value] of Object.entries(some)) {
      if (value.trim() === '') next.delete(name);
      else next.set(name, value.trim());
    }
    go(next.size === 0 ? '/lots' : `/lots?${next.toString()}`, { replace: true });
  };
  return [filters, change];
}
