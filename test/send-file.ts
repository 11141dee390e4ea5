import { SESSION_COOKIE } from '../src/server/plant/people/session-cookie.js';
import type { Answer, Plant } from './harness.js';

export const BOUNDARY = 'x-fernhollow-x';
export const MULTIPART = `multipart/form-data; boundary=${BOUNDARY}`;

/** A part of a multipart body; without a file name it is a field. */
export const partOf = (field: string, filename: string | null, content: Buffer | string): Buffer =>
  Buffer.concat([
    Buffer.from(
      `--${BOUNDARY}\r\nContent-Disposition: form-data; name="${field}"${filename === null ? '' : `; filename="${filename}"`}\r\n`,
    ),
    Buffer.from(filename === null ? '\r\n' : 'Content-Type: application/octet-stream\r\n\r\n'),
    Buffer.from(content as string),
    Buffer.from('\r\n'),
  ]);

export const bodyOf = (...parts: readonly Buffer[]): Buffer => Buffer.concat([...parts, Buffer.from(`--${BOUNDARY}--\r\n`)]);

/** Sends any body to the store of files as it is. */
export async function sendBody<Body>(plant: Plant, payload: Buffer, type = MULTIPART, person = 'inspector-1'): Promise<Answer<Body>> {
  const response = await plant.app.inject({
    method: 'POST',
    url: '/api/files',
    headers: { 'content-type': type },
    cookies: { [SESSION_COOKIE]: plant.sessionOf(person) },
    payload,
  });
  return { status: response.statusCode, body: response.json(), headers: response.headers };
}

export interface Stored {
  readonly sha256: string;
  readonly name: string;
  readonly mediaType: string;
  readonly bytes: number;
}

/** Stores a file as a person at the plant does. */
export const sendFile = <Body = Stored>(plant: Plant, name: string, content: Buffer | string, person?: string): Promise<Answer<Body>> =>
  sendBody(plant, bodyOf(partOf('file', name, content)), MULTIPART, person);

/** Something that is a PDF by its first bytes; what follows makes it one of its own. */
export const pdf = (text: string): string => `%PDF-1.7\n% ${text}\n%%EOF\n`;
