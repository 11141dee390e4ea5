import { server } from '../wire/client.js';
import type { Choice } from './code-field.js';

/** Choices that are called what they are. */
export const sameWords = (values: readonly string[]) => values.map((value) => ({ value, says: value }));

/** What the catalogue changes to is not typed in the middle of a form: it may be a minute old. */
const KEEP = { staleTime: 60_000 };

/** The items of the catalogue, to choose from. */
export function useItems(): Choice[] {
  const { data } = server.useQuery('get', '/api/items', {}, KEEP);
  return (data ?? []).map(({ code, name }) => ({ code, says: name }));
}

/** Suppliers or customers, to choose from. */
export function useParties(role: 'supplier' | 'customer'): Choice[] {
  const { data } = server.useQuery('get', '/api/parties', {}, KEEP);
  return (data ?? []).filter((party) => party.role === role || party.role === 'both').map(({ code, name }) => ({ code, says: name }));
}

/** Locations, to choose from. */
export function useLocations(): Choice[] {
  const { data } = server.useQuery('get', '/api/locations', {}, KEEP);
  return (data ?? []).map(({ code, name }) => ({ code, says: name }));
}
