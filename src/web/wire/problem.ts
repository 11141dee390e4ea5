import type { Reason } from '../../../shared/refusal.js';
import { localWritten } from '../app/clock.js';

/** What the server answers when it does not do what was asked: RFC 9457, with every reason at once. */
export interface Problem {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly reasons: readonly Reason[];
}

/** An answer that was no answer: the connection is gone or the server does not run. */
export class Unreachable extends Error {
  override readonly name = 'Unreachable';
}

const isProblem = (value: unknown): value is Problem =>
  typeof value === 'object' && value !== null && 'status' in value && 'title' in value;

/** A wrong password is no matter of what one may do. */
const titleOf = ({ title }: Problem, reasons: readonly Reason[]): string =>
  reasons.length > 0 && reasons.every(({ code }) => code === 'signature-refused') ? 'Nothing was signed' : title;

const INSTANT = /\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(?:\.\d{3})?Z/gu;

/** The server tells programs and people the same, instants in UTC; people read them in their own time. */
const inLocalTime = (told: string): string => told.replaceAll(INSTANT, (instant) => localWritten(instant));

const told = <Told extends { readonly detail: string }>(one: Told): Told => ({ ...one, detail: inLocalTime(one.detail) });

/** Any error of a request as a problem that can be shown. */
export function problemOf(error: unknown): Problem {
  if (isProblem(error)) {
    const reasons = (error.reasons ?? []).map(told);
    return { ...told(error), title: titleOf(error, reasons), reasons };
  }
  if (error instanceof Unreachable) {
    return {
      type: '/problems/unreachable',
      title: 'No connection to the server',
      status: 0,
      detail: 'The server does not answer. Nothing you typed is lost; try again when the connection is back.',
      reasons: [],
    };
  }
  const detail = error instanceof Error ? error.message : String(error);
  return { type: 'about:blank', title: 'Something went wrong in this page', status: 0, detail, reasons: [] };
}
