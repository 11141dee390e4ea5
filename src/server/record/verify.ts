import type { EntityManager } from 'typeorm';
import { type Fault, type KnownHead, verifyChain } from '../ledger/chain.js';
import { ledgerHead } from '../ledger/read.js';
import type { Config } from '../platform/config.js';
import { PROJECTED, SCHEMA } from '../schema.js';
import { withEmptyTables } from './beside.js';
import { differenceFault, differences } from './compare.js';
import { conservationFaults } from './conservation.js';
import { linkFaults } from './link-faults.js';
import { onStanding } from './standing.js';
import { replay, ReplayFault } from './replay.js';
import { tableColumns } from './table-rows.js';

/** How far a check has come: `done` of `of` entries, or of tables when it compares them. */
export interface Progress {
  readonly step: 'chain' | 'replay' | 'compare';
  readonly done: number;
  readonly of: number;
}

export interface VerifyReport {
  readonly ok: boolean;
  /** Entries of the ledger that was checked, and the hash it ends with. */
  readonly entries: number;
  readonly hash: string;
  readonly faults: readonly Fault[];
}

export interface VerifyOptions {
  /** A head somebody wrote down earlier: this ledger must continue it. */
  readonly known?: KnownHead | undefined;
  readonly onProgress?: ((progress: Progress) => void) | undefined;
}

/** Faults named of each table, before the check goes on to the next. */
const MOST_OF_A_TABLE = 20;

/**
 * Checks the whole record as it stands at this moment, while work goes on: the chain, then every projected table against what a replay
 * of the ledger gives, row by row, then what must be true of any plant's stock. A broken chain ends the check: nothing can be
 * rebuilt from it.
 */
export function verifyRecord(config: Config, options: VerifyOptions = {}): Promise<VerifyReport> {
  return onStanding(config, SCHEMA, async (live) => {
    const of = (await ledgerHead(live)).seq;
    const report = (step: Progress['step'], done: number, all = of) => options.onProgress?.({ step, done, of: all });
    const chain = await verifyChain(live, options.known, (done) => report('chain', done));
    if (chain.fault) return { ok: false, entries: of, hash: chain.hash, faults: [chain.fault] };
    const faults = [...(await tableFaults(config, live, report)), ...(await stockFaults(live))];
    return { ok: faults.length === 0, entries: of, hash: chain.hash, faults };
  });
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
