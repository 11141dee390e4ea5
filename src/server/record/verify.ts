import type { EntityManager } from 'typeorm';
import { type Fault, type KnownHead, type KnownTree, verifyChain } from '../ledger/chain.js';
import { ledgerHead } from '../ledger/read.js';
import { storedFiles } from '../plant/files/files.query.js';
import type { Config } from '../platform/config.js';
import { PROJECTED, SCHEMA } from '../schema.js';
import { withEmptyTables } from './beside.js';
import { differenceFault, differences } from './compare.js';
import { conservationFaults } from './conservation.js';
import { linkFaults } from './link-faults.js';
import { fileFaults } from './file-faults.js';
import { onStanding } from './standing.js';
import { replay, ReplayFault } from './replay.js';
import { tableColumns } from './table-rows.js';

/** How far a check has come: `done` of `of` entries, of tables when it compares them, of stored files when it reads those. */
export interface Progress {
  readonly step: 'chain' | 'replay' | 'compare' | 'files';
  readonly done: number;
  readonly of: number;
}

export interface VerifyReport {
  readonly ok: boolean;
  /** Entries of the ledger that was checked, and the hash it ends with. */
  readonly entries: number;
  readonly hash: string;
  /** Stored files that were checked. */
  readonly files: number;
  readonly faults: readonly Fault[];
}

export interface VerifyOptions {
  /** A head somebody wrote down earlier, or what a checkpoint says: this ledger must continue it. */
  readonly known?: KnownHead | KnownTree | undefined;
  readonly onProgress?: ((progress: Progress) => void) | undefined;
}

/** Faults named of each table, before the check goes on to the next. */
const MOST_OF_A_TABLE = 20;

/**
 * Checks the whole record as it stands at this moment, while work goes on: the chain, then every projected table against what a replay
 * of the ledger gives, row by row, then what must be true of any plant's stock, then every stored file against its hash. A broken
 * chain ends the check: nothing can be rebuilt from it.
 */
export async function verifyRecord(config: Config, options: VerifyOptions = {}): Promise<VerifyReport> {
  const report = (step: Progress['step'], done: number, of: number) => options.onProgress?.({ step, done, of });
  const { files, ...found } = await onStanding(config, SCHEMA, async (live) => {
    const of = (await ledgerHead(live)).seq;
    const chain = await verifyChain(live, options.known, (done) => report('chain', done, of));
    if (chain.fault) return { entries: of, hash: chain.hash, faults: [chain.fault], files: [] };
    const faults = [...(await tableFaults(config, live, (step, done, all = of) => report(step, done, all))), ...(await stockFaults(live))];
    return { entries: of, hash: chain.hash, faults, files: await storedFiles(live) };
  });
  // They never change, so the moment need not be held for them.
  const ofFiles = await fileFaults(config, files, MOST_OF_A_TABLE, (done) => report('files', done, files.length));
  const faults = [...found.faults, ...ofFiles];
  return { ok: faults.length === 0, ...found, files: files.length, faults };
}

function tableFaults(
  config: Config,
  live: EntityManager,
  report: (step: Progress['step'], done: number, of?: number) => void,
): Promise<Fault[]> {
  const tables = tableColumns(live, PROJECTED);
  const names = tables.map((table) => table.table);
  return withEmptyTables(config, SCHEMA, live, names, async (rebuilt) => {
    try {
      await replay(live, rebuilt, 0, (done) => report('replay', done));
    } catch (error) {
      if (!(error instanceof ReplayFault)) throw error;
      return [{ what: 'entry-impossible', where: `entry ${error.seq}`, detail: error.message }];
    }
    const faults: Fault[] = [];
    for (const [i, table] of tables.entries()) {
      report('compare', i, tables.length);
      let ofTable = 0;
      for await (const difference of differences(live, rebuilt, table)) {
        faults.push(differenceFault(difference));
        if (++ofTable === MOST_OF_A_TABLE) break;
      }
    }
    return faults;
  });
}

/** What must be true of the stock of any plant, whatever its entries are. */
async function stockFaults(live: EntityManager): Promise<Fault[]> {
  const faults = await linkFaults(live, MOST_OF_A_TABLE);
  let ofStock = 0;
  for await (const fault of conservationFaults(live)) {
    faults.push(fault);
    if (++ofStock === MOST_OF_A_TABLE) break;
  }
  return faults;
}
