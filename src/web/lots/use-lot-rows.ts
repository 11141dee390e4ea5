import { keepPreviousData, useQueries } from '@tanstack/react-query';
import { server, type View } from '../wire/client.js';
import type { LotFilters } from './lot-filters.js';

const PAGE = 100;

const optionsOf = (filters: LotFilters, page: number) =>
  server.queryOptions('get', '/api/lots', {
    params: { query: { sort: '-bornAt' as const, ...filters, offset: page * PAGE, limit: PAGE } },
  });

/** The first of the lots that match, and how many match in all. */
export function useFirstLots(filters: LotFilters) {
  return server.useQuery(
    'get',
    '/api/lots',
    { params: { query: { sort: '-bornAt', ...filters, offset: 0, limit: PAGE } } },
    { placeholderData: keepPreviousData },
  );
}

/** The lots at places of the list, read by pages as one comes to them; undefined while it is read. */
export function useLotsAt(filters: LotFilters, first: number, last: number): (place: number) => View<'LotLineView'> | undefined {
  const from = Math.floor(first / PAGE);
  const pages = Array.from({ length: Math.floor(last / PAGE) - from + 1 }, (_, i) => from + i);
  const answers = useQueries({ queries: pages.map((page) => optionsOf(filters, page)) });
  return (place) => answers[Math.floor(place / PAGE) - from]?.data?.lots[place % PAGE];
}
