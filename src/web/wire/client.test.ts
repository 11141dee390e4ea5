import { afterEach, expect, it, vi } from 'vitest';
import { api } from './client.js';
import { sendCommand } from './send-command.js';
import { Unreachable } from './problem.js';

const answers = (status: number, type: string, body: string): void => {
  vi.stubGlobal('fetch', async () => new Response(body, { status, headers: type === '' ? {} : { 'content-type': type } }));
};
const book = (): Promise<unknown> => sendCommand({ path: 'http://plant.example/api/deliveries', address: {}, body: { commandId: 'one' } });
afterEach(() => vi.unstubAllGlobals());

it.each([
  [502, '', ''],
  [504, 'text/plain', 'upstream timed out'],
  [503, 'text/html', '<h1>Service unavailable</h1>'],
  [200, 'text/html; charset=utf-8', '<h1>Welcome to the guest network</h1>'],
])('takes %i %s of something on the way for no connection', async (status, type, body) => {
  answers(status, type, body);
  await expect(book()).rejects.toBeInstanceOf(Unreachable);
});

it('takes what the server itself says for its answer', async () => {
  answers(503, 'application/problem+json', '{"status":503,"title":"Busy","detail":"later"}');
  await expect(book()).rejects.toMatchObject({ status: 503, title: 'Busy' });
  answers(200, 'application/json', '[]');
  await expect(api.GET('/api/items', { baseUrl: 'http://plant.example' })).resolves.toMatchObject({ data: [] });
});
