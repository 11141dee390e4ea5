import { randomUUID } from 'node:crypto';
import cookie from '@fastify/cookie';
import helmet from '@fastify/helmet';
import multipart from '@fastify/multipart';
import { FastifyAdapter, type NestFastifyApplication } from '@nestjs/platform-fastify';
import type { FastifyError, FastifyInstance, FastifyReply } from 'fastify';
import { Refusal } from '../../../../shared/refusal.js';
import { Clock, httpDate } from '../clock.js';
import type { Config } from '../config.js';
import { logging } from './log.js';
import { sendProblem, toProblem } from './problems.js';

/** The largest JSON body. Files come as multipart, which is streamed and has limits of its own. */
const LARGEST_BODY = 1024 * 1024;
/** A code of 64 characters of four bytes each, percent-encoded. */
const LONGEST_PARAMETER = 64 * 4 * 3;

export const adapter = (config: Config): FastifyAdapter =>
  new FastifyAdapter({
    logger: logging(config.logLevel),
    genReqId: () => randomUUID(),
    bodyLimit: LARGEST_BODY,
    trustProxy: 'loopback', // TLS ends in a proxy on the same machine; nobody else may say who the client is
    routerOptions: { maxParamLength: LONGEST_PARAMETER },
    // An address that cannot be decoded never reaches a route, nor the filter.
    frameworkErrors: (error: FastifyError, _request: unknown, reply: FastifyReply) => sendProblem(reply, toProblem(error)),
  });

/** What every answer carries and every request is held to. */
export async function furnish(app: NestFastifyApplication): Promise<void> {
  const fastify: FastifyInstance = app.getHttpAdapter().getInstance();
  fastify.removeContentTypeParser('text/plain'); // only JSON and multipart are understood
  const clock = app.get(Clock);
  fastify.addHook('onRequest', (request, reply, done) => {
    reply.header('date', httpDate(clock.now())); // tablets learn from it what time the record has
    reply.header('x-request-id', request.id);
    reply.header('cache-control', 'no-store');
    done(controlCharacter(request.params) ?? controlCharacter(request.query));
  });
  await app.register(cookie);
  await app.register(multipart);
  await app.register(helmet, {
    // Tablets reach the plant's server over plain HTTP: forcing TLS would leave them with a blank page.
    strictTransportSecurity: false,
    contentSecurityPolicy: {
      directives: {
        upgradeInsecureRequests: null,
        'style-src': ["'self'", "'unsafe-inline'"],
        'img-src': ["'self'", 'data:', 'blob:'], // a photograph is shown before it is sent
      },
    },
  });
}

/** A code in the address is held to what a code in a body is: no control characters, which PostgreSQL could not even look for. */
function controlCharacter(values: unknown): Refusal | undefined {
  for (const [name, value] of Object.entries((values ?? {}) as Record<string, unknown>)) {
    if ([value].flat().some((one) => typeof one === 'string' && /\p{Cc}/u.test(one))) {
      return new Refusal('malformed', [
        { code: 'control-character', detail: `${name} in the address has a control character`, parameter: name },
      ]);
    }
  }
  return undefined;
}
