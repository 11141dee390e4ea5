import { type ArgumentsHost, Catch, type ExceptionFilter, HttpException } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import { Refusal, type RefusalKind } from '../../../../shared/refusal.js';

/** An RFC 9457 problem: every error body has this shape. */
export interface Problem {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly reasons: readonly { readonly code: string; readonly detail: string; readonly [fact: string]: unknown }[];
  /** How many faults files have, where not all of them are listed. */
  readonly faultCount?: number;
}

const REFUSED: Readonly<Record<RefusalKind, { status: number; title: string }>> = {
  unknown: { status: 404, title: 'The record knows nothing of that name' },
  conflict: { status: 409, title: 'The record says no' },
  forbidden: { status: 403, title: 'Not yours to do' },
  malformed: { status: 400, title: 'Not understood' },
  'faulty-file': { status: 422, title: 'The files have faults' },
};

const TITLES: Readonly<Record<number, string>> = {
  400: 'Not understood',
  401: 'Not signed in',
  403: 'Not yours to do',
  404: 'No such address',
  405: 'Not possible here',
  406: 'Not possible here',
  408: 'Took too long to arrive',
  410: 'No longer there',
  413: 'Too large',
  415: 'Not a kind of body this address takes',
  429: 'Too many tries',
  503: 'Not ready',
  507: 'No room',
};

/** For errors that carry no code of their own. */
const CODES: Readonly<Record<number, string>> = {
  401: 'not-signed-in',
  404: 'no-such-address',
  405: 'no-such-method',
  413: 'too-large',
  415: 'wrong-kind-of-body',
  429: 'too-many-tries',
  503: 'not-ready',
};

/** Codes SQLite and PostgreSQL give when the disk is full. */
const FULL = /SQLITE_FULL|SQLITE_IOERR|ENOSPC|53100|database or disk is full/;

/** What went wrong, as a problem; only unforeseen errors keep their detail to the log. */
export function toProblem(error: unknown): Problem {
  if (error instanceof Refusal) {
    const { status, title } = REFUSED[error.kind];
    const code = error.reasons.length === 1 ? error.reasons[0]!.code : error.kind;
    const counted = 'faultCount' in error && typeof error.faultCount === 'number' ? { faultCount: error.faultCount } : {};
    return { type: `/problems/${code}`, title, status, detail: error.message, reasons: error.reasons, ...counted };
  }
  if (error instanceof HttpException) return fromHttp(error);
  const fastify = error as { statusCode?: number; code?: string; message?: string };
  if (typeof fastify.statusCode === 'number' && fastify.statusCode < 500) {
    return plainProblem(fastify.statusCode, CODES[fastify.statusCode] ?? 'malformed', fastify.message ?? '');
  }
  if (FULL.test(`${fastify.code ?? ''} ${fastify.message ?? ''}`)) {
    return plainProblem(507, 'no-room', 'the disk is full: nothing was written; reading goes on, and writing will when there is space');
  }
  return plainProblem(500, 'fault', 'something unforeseen went wrong; nothing was recorded, and the log of the server says what');
}

function fromHttp(error: HttpException): Problem {
  const status = error.getStatus();
  const body: { reasons?: Problem['reasons'] } | string = error.getResponse();
  if (typeof body === 'object' && body.reasons) {
    const detail = body.reasons.map((reason) => reason.detail).join('; ');
    const code = status === 400 || body.reasons.length !== 1 ? 'malformed' : body.reasons[0]!.code;
    return { type: `/problems/${code}`, title: TITLES[status] ?? 'Refused', status, detail, reasons: body.reasons };
  }
  const code = CODES[status] ?? (status === 400 ? 'malformed' : 'refused');
  return plainProblem(status, code, error.message);
}

const plainProblem = (status: number, code: string, detail: string): Problem => ({
  type: `/problems/${code}`,
  title: TITLES[status] ?? (status >= 500 ? 'A fault of the server' : 'Refused'),
  status,
  detail,
  reasons: [{ code, detail }],
});

interface Reply {
  status(status: number): Reply;
  header(name: string, value: string): Reply;
  send(body: string): unknown;
  readonly sent?: boolean;
}

/** Answers with a problem. */
export function sendProblem(reply: Reply, problem: Problem): void {
  const wait = problem.reasons[0]?.['retryAfterSeconds'];
  if (typeof wait === 'number') reply.header('retry-after', String(wait));
  if (problem.status === 401) reply.header('www-authenticate', 'Bearer');
  reply.status(problem.status).header('content-type', 'application/problem+json; charset=utf-8').send(JSON.stringify(problem));
}

/** Writes every error body. */
@Catch()
export class ProblemFilter implements ExceptionFilter {
  catch(error: unknown, host: ArgumentsHost): void {
    const http = host.switchToHttp();
    const reply = http.getResponse<Reply>();
    const problem = toProblem(error);
    if (problem.status >= 500) http.getRequest<FastifyRequest>().log.error({ err: error }, problem.detail);
    if (!reply.sent) sendProblem(reply, problem);
  }
}
