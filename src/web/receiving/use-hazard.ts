import { server } from '../wire/client.js';

/** What is dangerous about an item, as the catalogue says; null when nothing is said. */
export function useHazard(item: string): string | null {
  const { data } = server.useQuery('get', '/api/items', {}, { staleTime: 60_000 });
  return data?.find(({ code }) => code === item)?.hazard ?? null;
}
