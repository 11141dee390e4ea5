import { server } from '../wire/client.js';

/** How many there are of each; undefined until it is read. */
export interface Counts {
  readonly items?: number | undefined;
  readonly parties?: number | undefined;
  readonly locations?: number | undefined;
  readonly vessels?: number | undefined;
  readonly lines?: number | undefined;
  readonly instruments?: number | undefined;
  readonly recipes?: number | undefined;
  readonly boms?: number | undefined;
  readonly defects?: number | undefined;
  readonly plans?: number | undefined;
  readonly people?: number | undefined;
  readonly imports?: number | undefined;
}

/** How many there are of each kind of record. */
export function useCounts(): Counts {
  return {
    items: server.useQuery('get', '/api/items').data?.length,
    parties: server.useQuery('get', '/api/parties').data?.length,
    locations: server.useQuery('get', '/api/locations').data?.length,
    vessels: server.useQuery('get', '/api/vessels').data?.length,
    lines: server.useQuery('get', '/api/lines').data?.length,
    instruments: server.useQuery('get', '/api/instruments').data?.length,
    recipes: server.useQuery('get', '/api/recipes').data?.length,
    boms: server.useQuery('get', '/api/boms').data?.length,
    defects: server.useQuery('get', '/api/defects').data?.length,
    plans: server.useQuery('get', '/api/inspection-plans').data?.length,
    people: server.useQuery('get', '/api/people').data?.length,
    imports: server.useQuery('get', '/api/imports').data?.length,
  };
}
