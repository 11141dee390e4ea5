import type { EntityManager } from 'typeorm';
import type { Config } from '../platform/config.js';
import { openReader, type Schema } from '../platform/database/data-source.js';

/**
 * Runs `work` on the committed state of one moment, through a connection of its own that cannot write: ledger and tables stand still
 * while commands go on.
 */
export async function onStanding<T>(config: Config, schema: Schema, work: (live: EntityManager) => Promise<T>): Promise<T> {
  const source = await openReader(config, schema);
  const runner = source.createQueryRunner();
  try {
    if (config.databaseUrl) await runner.startTransaction('REPEATABLE READ');
    else await runner.startTransaction();
    await runner.query('SELECT "seq" FROM "ledger_head"'); // the moment is fixed by the first read, not by BEGIN
    try {
      return await work(runner.manager);
    } finally {
      await runner.rollbackTransaction();
    }
  } finally {
    await runner.release();
    await source.destroy();
  }
}
