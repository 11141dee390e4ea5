import type { ColumnOptions, ValueTransformer } from 'typeorm';
import { parseSpans, type SpanSet } from '../../../../shared/spans.js';

/**
 * Column types that mean the same on SQLite and PostgreSQL, and nothing else.
 * Codes are compared by code unit on both: no collation of a language decides what is equal.
 */
function column<Base extends ColumnOptions>(base: Base) {
  function named(name: string): Base & { name: string };
  function named<More extends ColumnOptions>(name: string, more: More): Base & More & { name: string };
  function named(name: string, more: ColumnOptions = {}) {
    return { ...base, ...more, name };
  }
  return named;
}

export const code = column({ type: 'varchar', length: 64 });
export const text = column({ type: 'text' });
export const integer = column({ type: 'integer' });
export const flag = column({ type: 'boolean' });
/** UTC instant, ISO 8601 with milliseconds, 24 characters. */
export const instant = column({ type: 'varchar', length: 24 });
/** Calendar date `YYYY-MM-DD`. */
export const date = column({ type: 'varchar', length: 10 });

/** PostgreSQL answers 64-bit integers as text, SQLite as numbers; both must be exact. */
export function safeInteger(value: unknown): number {
  const number = typeof value === 'string' ? Number(value) : (value as number);
  if (!Number.isSafeInteger(number)) throw new Error(`not an exact whole number: ${String(value)}`);
  return number;
}

/** Piece numbers as a text column keeps them, `5-17,40`; null stays null: no piece is named. */
export const storedSpans = (pieces: string | null): SpanSet | null => (pieces === null ? null : parseSpans(pieces));

const exact: ValueTransformer = {
  to: (value: number | null | undefined) => (value === null || value === undefined ? value : safeInteger(value)),
  from: (value: unknown) => (value === null || value === undefined ? value : safeInteger(value)),
};

/** Whole millionths of a base unit in a 64-bit column. */
export const micro = column({ type: 'bigint', transformer: exact });
