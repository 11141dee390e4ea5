import { api } from './client.js';

/** A command as it goes over the wire, and as it is kept while there is no connection. */
export interface WrittenCommand {
  /** As in the API document, with names in braces. */
  readonly path: string;
  readonly address: Readonly<Record<string, string>>;
  /** With its commandId. */
  readonly body: object;
}

type AnyPost = (path: string, init: object) => Promise<{ data?: unknown; error?: unknown }>;

/**
 * Sends a command and gives its answer.
 * @throws Unreachable without a connection; a Problem when the server says no
 */
export async function sendCommand({ path, address, body }: WrittenCommand): Promise<unknown> {
  const { data, error } = await (api.POST as unknown as AnyPost)(path, { params: { path: address }, body });
  if (error !== undefined) throw error;
  return data;
}
