import type { DataSource, QueryRunner } from 'typeorm';
import { CommandGate } from '../../src/server/platform/database/gate.js';
import type { Plant } from '../harness.js';

/** Makes one statement of the writing connection fail. */
export interface Failing {
  /** The `n`-th statement from now on fails; those after it work again. */
  failAt(n: number): void;
  /** The statement that failed since `failAt`, or null when fewer were run. */
  failed(): string | null;
  /** Every statement that was sent, in order. */
  readonly sent: readonly string[];
}

/**
 * Wraps every query runner of the writer. Nothing is mocked: all statements but one reach the database. On PostgreSQL the failing one
 * is replaced by a statement that truly fails there, because after an error its transaction takes nothing but a rollback.
 */
export function failingWriter(plant: Plant): Failing {
  const { writer } = plant.app.get<unknown, { writer: DataSource }>(CommandGate);
  let left = 0;
  let failed: string | null = null;
  const sent: string[] = [];
  const wrapped = new WeakSet<QueryRunner>();
  const create = writer.createQueryRunner.bind(writer);
  writer.createQueryRunner = (...args) => {
    const runner = create(...args);
    if (wrapped.has(runner)) return runner; // SQLite has one for all
    wrapped.add(runner);
    const query = runner.query.bind(runner) as (sql: string, ...rest: unknown[]) => Promise<never>;
    runner.query = async (sql: string, ...rest: unknown[]): Promise<never> => {
      sent.push(sql);
      if (left > 0 && --left === 0) {
        failed = sql;
        if (writer.options.type === 'postgres') await query('SELECT 1 / 0');
        throw new Error('this statement fails for a test');
      }
      return query(sql, ...rest);
    };
    return runner;
  };
  return {
    sent,
    failAt(n) {
      left = n;
      failed = null;
    },
    failed: () => failed,
  };
}
