import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import { createGunzip } from 'node:zlib';

const NEWLINE = 0x0a;

/**
 * The lines of a text file, compressed by gzip or not, one at a time. Only a line feed ends a line: text inside JSON may hold the
 * other characters that editors and `node:readline` take for one.
 * @throws Error of zlib when a compressed file is cut or damaged
 */
export async function* fileLines(file: string): AsyncGenerator<string> {
  let rest: Buffer[] = [];
  for await (const chunk of await bytesOf(file)) {
    let start = 0;
    for (let end = chunk.indexOf(NEWLINE); end >= 0; end = chunk.indexOf(NEWLINE, start)) {
      rest.push(chunk.subarray(start, end));
      yield Buffer.concat(rest).toString('utf8');
      rest = [];
      start = end + 1;
    }
    if (start < chunk.length) rest.push(chunk.subarray(start));
  }
  if (rest.length > 0) yield Buffer.concat(rest).toString('utf8');
}

async function bytesOf(file: string): Promise<AsyncIterable<Buffer>> {
  const handle = await open(file);
  const { buffer } = await handle.read(Buffer.alloc(2), 0, 2, 0);
  await handle.close();
  const source = createReadStream(file);
  if (buffer[0] !== 0x1f || buffer[1] !== 0x8b) return source;
  const gunzip = createGunzip();
  source.on('error', (error) => gunzip.destroy(error));
  return source.pipe(gunzip);
}
