import { keepPreviousData } from '@tanstack/react-query';
import { server, type View } from '../wire/client.js';
import type { LotFilters } from './lot-filters.js';

const PAGE = 200;

export interface LotRows {
  /** How many lots match in all, or null while this is not known. */
  readonly total: number | null;
  /** Those read so far, in order. */
  readonly rows: readonly View<'LotLineView'>[];
  /** Makes sure that rows up to a place are read. */
  readonly want: (upTo: number) => void;
  readonly error: unknown;
  readonly again: () => void;
}

/** Lots that match, read a page at a time as one comes to them. */
export function useLotRows(filters: LotFilters): LotRows {
  const query = server.useInfiniteQuery(
    'get',
    '/api/lots',
    { params: { query: { ...filters, limit: PAGE } } },
    {
      pageParamName: 'after',
      initialPageParam: undefined,
      getNextPageParam: (page: View<'LotListView'>) => (page.lots.length < PAGE ? undefined : page.lots.at(-1)?.lot),
      placeholderData: keepPreviousData,
    },
  );
  const pages = query.data?.pages ?? [];
  const rows = pages.flatMap(({ lots }) => lots);
  return {
    total: pages[0]?.total ?? null,
    rows,
    want: (upTo) => {
      if (upTo >= rows.length && query.hasNextPage && !query.isFetchingNextPage) void query.fetchNextPage();
    },
    error: query.error,
    again: () => void query.refetch(),
  };
}
