import { Writable } from 'node:stream';
import Fastify from 'fastify';
import { expect, it } from 'vitest';
import { LogBridge, logging } from './log.js';

function written(level: string, log: (bridge: LogBridge, fastify: ReturnType<typeof Fastify>) => void): string {
  let text = '';
  const stream = new Writable({
    write(chunk: Buffer, _encoding, done) {
      text += chunk.toString();
      done();
    },
  });
  const fastify = Fastify({ logger: { ...(logging(level) as object), stream } });
  log(new LogBridge(fastify.log), fastify);
  return text;
}

it('keeps secrets out of the log, wherever they travel', () => {
  const text = written('info', (_bridge, { log }) => {
    log.info({ req: { headers: { authorization: 'Bearer SECRET-1', cookie: 'kinledger_session=SECRET-2', accept: 'shown' } } }, 'asked');
    log.info({ res: { headers: { 'set-cookie': 'kinledger_session=SECRET-3' } } }, 'answered');
    log.info({ body: { password: 'SECRET-4', key: 'SECRET-5' } }, 'given');
  });
  expect(text).toContain('asked');
  expect(text).not.toContain('SECRET');
});

it('passes on what the framework says, from the level that is set', () => {
  const text = written('warn', (bridge) => {
    bridge.log('mapped a route', 'Router');
    bridge.warn('look here', 'Somewhere');
    bridge.error('it broke', 'at line 1', 'Elsewhere');
  });
  const lines = text
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as { msg: string; where: string; stack?: string });
  expect(lines.map(({ msg, where }) => [msg, where])).toEqual([
    ['look here', 'Somewhere'],
    ['it broke', 'Elsewhere'],
  ]);
  expect(lines[1]!.stack).toBe('at line 1');
});
