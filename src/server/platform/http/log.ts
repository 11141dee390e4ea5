import type { LoggerService } from '@nestjs/common';
import type { FastifyBaseLogger, FastifyServerOptions } from 'fastify';

/** Where secrets travel. Bodies are never logged, so a password cannot be. */
const SECRET = ['req.headers.authorization', 'req.headers.cookie', 'res.headers["set-cookie"]', '*.password', '*.token', '*.key'];

/** Log lines are JSON on stderr, so stdout stays for what a person or a program asked for. */
export const logging = (level: string): FastifyServerOptions['logger'] => ({
  level,
  redact: { paths: SECRET, censor: '[not logged]' },
  stream: process.stderr,
});

/** Nest's own messages go to the same log as the requests. */
export class LogBridge implements LoggerService {
  constructor(private readonly to: FastifyBaseLogger) {}

  log(message: unknown, ...context: unknown[]): void {
    this.to.debug(said(context), String(message)); // Nest tells of every route it maps
  }
  error(message: unknown, ...context: unknown[]): void {
    this.to.error(said(context), String(message));
  }
  warn(message: unknown, ...context: unknown[]): void {
    this.to.warn(said(context), String(message));
  }
  debug(message: unknown, ...context: unknown[]): void {
    this.to.debug(said(context), String(message));
  }
  verbose(message: unknown, ...context: unknown[]): void {
    this.to.trace(said(context), String(message));
  }
  fatal(message: unknown, ...context: unknown[]): void {
    this.to.fatal(said(context), String(message));
  }
}

/** Nest gives the place last and sometimes a stack before it. */
const said = (context: readonly unknown[]): { where: unknown; stack?: unknown } =>
  context.length > 1 ? { where: context.at(-1), stack: context[0] } : { where: context[0] };
