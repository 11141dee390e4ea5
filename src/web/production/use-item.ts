import { server, type View } from '../wire/client.js';

/** An item of the catalogue as it stands, or undefined while it is read. */
export function useItemOf(item: string): View<'ItemView'> | undefined {
  return server.useQuery('get', '/api/items/{item}', { params: { path: { item } } }, { staleTime: 60_000 }).data;
}
