import createFetchClient, { type Middleware } from 'openapi-fetch';
import createQueryClient from 'openapi-react-query';
import { Unreachable } from './problem.js';
import { hearServerTime } from '../app/clock.js';
import type { components, paths } from './schema.js';

/** The wire types of the server, by the name of their class there: `View<'LotView'>`. */
export type View<Name extends keyof components['schemas']> = components['schemas'][Name];

const signedOut = new Set<() => void>();

/** Calls back when the server no longer knows who asks. */
export function onSignedOut(listener: () => void): () => void {
  signedOut.add(listener);
  return () => void signedOut.delete(listener);
}

/** Where 401 says that a password is wrong, not that the session has ended. */
const ASKS_FOR_PASSWORD = ['/api/sign-in', '/api/me/password'];

/** What a gateway on the way answers when it does not reach the server. */
const GATEWAY: readonly number[] = [502, 503, 504];

/** Not an answer of the server: of a gateway that does not reach it, or a page that a network puts before everything. */
function isFromElsewhere({ status, headers }: Response): boolean {
  const type = headers.get('content-type') ?? '';
  return type.startsWith('text/html') || (GATEWAY.includes(status) && !type.includes('json'));
}

const manners: Middleware = {
  onResponse({ response, schemaPath }) {
    if (isFromElsewhere(response)) throw new Unreachable('something on the way answers, and not the server');
    hearServerTime(response.headers.get('date'));
    if (response.status === 401 && !ASKS_FOR_PASSWORD.includes(schemaPath)) for (const tell of signedOut) tell();
  },
  onError: () => new Unreachable('the server does not answer'),
};

/** Typed requests to the server: a wrong path, parameter or body does not compile. */
export const api = createFetchClient<paths>({
  baseUrl: '',
  // Called late, so that a test or a page can stand between; the session is a cookie of this very host.
  fetch: (request) => globalThis.fetch(request),
});
api.use(manners);

/** The same as react-query hooks: `server.useQuery('get', '/api/lots/{lot}', { params: { path: { lot } } })`. */
export const server = createQueryClient(api);
