import type { Choice } from '../design/code-field.js';
import { server } from '../wire/client.js';

/** People of the plant that can answer for something, to choose from. */
export function usePeople(): Choice[] {
  const { data } = server.useQuery('get', '/api/people', {}, { staleTime: 60_000 });
  return (data ?? [])
    .filter(({ blocked }) => !blocked)
    .map(({ person, displayName, roles }) => ({ code: person, says: `${displayName ?? ''} (${roles.join(', ')})` }));
}
