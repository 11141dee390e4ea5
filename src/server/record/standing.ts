import type { EntityManager } from 'typeorm';
import type { Config } from '../platform/config.js';
import { openReader, type Schema } from '../platform/database/data-source.js';

/** The committed state of one moment, until it is closed. */
export interface Standing {
  readonly live: EntityManager;
  readonly close: () => Promise<void>;
}

/**
 * Opens the committed state of one moment, through a connection of its own that cannot write: ledger and tables stand still while
 * commands go on. Close it as soon as may be: the database keeps everything newer beside it for so long.
 */
export async function openStanding(config: Config, schema: Schema): Promise<Standing> {
  const source = await openReader(config, schema);
  const runner = source.createQueryRunner();
  const close = async (): Promise<void> => {
    if (runner.isTransactionActive) await runner.rollbackTransaction();
    await runner.release();
    await source.destroy();
  };
  try {
    if (config.databaseUrl) await runner.startTransaction('REPEATABLE READ');
    else await runner.startTransaction();
    await runner.query('SELECT "seq" FROM "ledger_head"'); // the moment is fixed by the first read, not by BEGIN
    return { live: runner.manager, close };
  } catch (error) {
    await close();
    throw error;
  }
}

/** Runs `work` on the committed state of one moment. */
export async function onStanding<T>(config: Config, schema: Schema, work: (live: EntityManager) => Promise<T>): Promise<T> {
  const { live, close } = await openStanding(config, schema);
  try {
    return await work(live);
  } finally {
    await close();
  }
}
