import { AsyncLocalStorage } from 'node:async_hooks';
import type { DataSource, EntityManager } from 'typeorm';

/** What must follow the fate of a group of commands: an index in memory that has learned from rows not yet committed. */
export interface GroupWatcher {
  /** The write lock is held and nothing of the group has been written. */
  begun(tx: EntityManager): Promise<void>;
  /** A command is about to start; what is returned comes back in `undo` if the command fails. */
  mark(): unknown;
  undo(mark: unknown): void;
  committed(): void;
  rolledBack(): void;
}

interface Waiting {
  readonly work: (tx: EntityManager) => Promise<unknown>;
  readonly resolve: (value: unknown) => void;
  readonly reject: (error: unknown) => void;
}

type Outcome = { readonly done: true; readonly value: unknown } | { readonly done: false; readonly error: unknown };

/**
 * The gate through which the current work runs. One for all gates: while a storage is in use, every promise of the process pays for it,
 * and a gate does not know when it was used for the last time.
 */
const inside = new AsyncLocalStorage<CommandGate>();

/** How many commands may share one commit. */
const MOST_IN_GROUP = 256;

/**
 * One writer at a time, several commands a commit.
 *
 * TypeORM merges overlapping SQLite transactions on its one connection (typeorm#11143, #1884), so every write goes through here.
 * What waits is drained into one transaction, each command in a savepoint of its own: a refused command takes nothing with it,
 * every command is decided on what its forerunners left, and all are answered after the one commit.
 */
export class CommandGate {
  readonly #waiting: Waiting[] = [];
  readonly #watchers: GroupWatcher[] = [];
  #draining: Promise<void> | null = null;

  constructor(
    private readonly writer: DataSource,
    /** Takes the write lock; the first statement of every transaction. */
    private readonly lock: (tx: EntityManager) => Promise<unknown>,
  ) {}

  watch(watcher: GroupWatcher): void {
    this.#watchers.push(watcher);
  }

  /** Runs `work` in a transaction; resolves only after its commit. `work` must await each statement before the next. */
  run<T>(work: (tx: EntityManager) => Promise<T>): Promise<T> {
    if (inside.getStore() === this) throw new Error('a command must not start another command');
    const answer = new Promise<T>((resolve, reject) => {
      this.#waiting.push({ work, resolve: resolve as (value: unknown) => void, reject });
    });
    this.#draining ??= inside.exit(() => this.#drain());
    return answer;
  }

  /** Resolves when nothing waits any more: for a graceful stop. */
  async idle(): Promise<void> {
    while (this.#draining) await this.#draining;
  }

  async #drain(): Promise<void> {
    await new Promise(setImmediate); // let commands of the same turn join the group
    while (this.#waiting.length > 0) await this.#runGroup(this.#waiting.splice(0, MOST_IN_GROUP));
    this.#draining = null;
  }

  async #runGroup(group: readonly Waiting[]): Promise<void> {
    const outcomes: Outcome[] = [];
    try {
      await this.writer.transaction(async (tx) => {
        await this.lock(tx);
        for (const watcher of this.#watchers) await watcher.begun(tx);
        for (const waiting of group) outcomes.push(await this.#runOne(tx, waiting.work));
      });
    } catch (error) {
      for (const watcher of this.#watchers) watcher.rolledBack();
      await this.#mend();
      this.#assertIdle();
      for (const waiting of group) waiting.reject(error);
      return;
    }
    this.#assertIdle();
    for (const watcher of this.#watchers) watcher.committed();
    group.forEach((waiting, i) => {
      const outcome = outcomes[i]!;
      if (outcome.done) waiting.resolve(outcome.value);
      else waiting.reject(outcome.error);
    });
  }

  async #runOne(tx: EntityManager, work: Waiting['work']): Promise<Outcome> {
    const marks = this.#watchers.map((watcher) => watcher.mark());
    await tx.query('SAVEPOINT command');
    try {
      const value = await inside.run(this, () => work(tx));
      await tx.query('RELEASE SAVEPOINT command');
      return { done: true, value };
    } catch (error) {
      try {
        await tx.query('ROLLBACK TO SAVEPOINT command');
        await tx.query('RELEASE SAVEPOINT command');
      } catch {
        throw error; // there is no savepoint any more: what went wrong first is what the whole group is told
      }
      this.#watchers.forEach((watcher, i) => watcher.undo(marks[i]));
      return { done: false, error };
    }
  }

  /**
   * SQLite may end a transaction by itself when it cannot write (disk full, I/O error), and TypeORM goes on believing in it. Nothing of
   * the group has been answered, so whatever is left of the transaction is rolled back and the connection is idle again.
   */
  async #mend(): Promise<void> {
    if (this.writer.options.type !== 'sqlite') return;
    const runner = this.writer.createQueryRunner() as unknown as { transactionDepth: number; isTransactionActive: boolean };
    if (runner.transactionDepth === 0) return;
    try {
      await this.writer.query('ROLLBACK');
    } catch (error) {
      if (!String(error).includes('no transaction is active')) return; // and #assertIdle stops the process
    }
    runner.transactionDepth = 0;
    runner.isTransactionActive = false;
  }

  /**
   * A transaction that SQLite ended behind TypeORM's back would turn later commands into savepoints of nothing, and a command that
   * was answered would be missing after a restart. There is no safe way on from that.
   */
  #assertIdle(): void {
    if (this.writer.options.type !== 'sqlite') return;
    const runner = this.writer.createQueryRunner() as unknown as { transactionDepth: number };
    if (runner.transactionDepth !== 0) {
      console.error('the writer connection is stuck inside a transaction: stopping so that no answer can be lost');
      process.abort();
    }
  }
}
