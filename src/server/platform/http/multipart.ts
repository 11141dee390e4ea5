import type { Readable } from 'node:stream';

/** A part of a multipart body as the parser hands it over. */
export interface UploadedPart {
  readonly type: 'file' | 'field';
  readonly fieldname: string;
  readonly filename?: string;
  readonly file?: Readable & { readonly truncated: boolean };
}

/** A request as the multipart parser leaves it. */
export interface UploadRequest {
  isMultipart?(): boolean;
  parts?(options: object): AsyncIterable<unknown>;
}

const BROKE_OFF = /unexpected end|terminated early|premature close|aborted|ECONNRESET|Multipart: Boundary not found/i;

/** Whether an upload ended before its end: the sender's connection, not a fault here. */
export function brokeOff(error: unknown): boolean {
  const { message = '', code = '' } = error as { message?: string; code?: string };
  return BROKE_OFF.test(`${code} ${message}`) || code === 'ERR_STREAM_PREMATURE_CLOSE';
}
