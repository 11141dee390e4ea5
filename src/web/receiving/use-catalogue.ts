import { useMemo } from 'react';
import { server } from '../wire/client.js';
import type { Catalogue } from './proposal.js';

const KEEP = { staleTime: 60_000 };

/** What a scan at the dock is read against. It stays readable when the connection drops in the middle of a delivery. */
export function useCatalogue(): Catalogue {
  const { data: items } = server.useQuery('get', '/api/items', {}, KEEP);
  const { data: parties } = server.useQuery('get', '/api/parties', {}, KEEP);
  const { data: locations } = server.useQuery('get', '/api/locations', {}, KEEP);
  return useMemo(
    () => ({ items: items ?? [], suppliers: (parties ?? []).filter(({ role }) => role !== 'customer'), locations: locations ?? [] }),
    [items, parties, locations],
  );
}
