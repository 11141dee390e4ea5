import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import fastifyStatic from '@fastify/static';
import { NotFoundException } from '@nestjs/common';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { sendProblem, toProblem } from './problems.js';

/** The project's folder: the nearest one above this file with a package.json, from the sources and from the build alike. */
function projectFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, 'package.json')) && folder !== dirname(folder)) folder = dirname(folder);
  return folder;
}

/** Names in assets/ carry the hash of what is in them, so they may be kept for good; everything else is asked for again. */
const keeping = (file: string): string => (file.includes('/assets/') ? 'public, max-age=31536000, immutable' : 'no-cache');

const wantsPage = ({ url, headers }: FastifyRequest): boolean =>
  !/^\/api(\/|$|\?)/.test(url) && (headers.accept ?? '').includes('text/html');

/** Serves the browser client beside the API. An address the server does not know is one of the client's own pages. */
export async function serveWebClient(app: NestFastifyApplication): Promise<void> {
  const root = join(projectFolder(), 'dist', 'web');
  if (!existsSync(join(root, 'index.html'))) return; // only the server was built
  await app.register(fastifyStatic, {
    root,
    wildcard: false,
    preCompressed: true,
    cacheControl: false,
    setHeaders: (reply, file) => void reply.header('cache-control', keeping(file)),
  });
  const fastify: FastifyInstance = app.getHttpAdapter().getInstance();
  fastify.get('/*', (request: FastifyRequest, reply: FastifyReply) => {
    if (wantsPage(request)) return reply.sendFile('index.html');
    return sendProblem(reply, toProblem(new NotFoundException(`Cannot GET ${request.url}`)));
  });
}
