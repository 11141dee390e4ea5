import type { EntityManager } from 'typeorm';
import { lockHead } from '../ledger/append.js';
import { type Fault, verifyChain } from '../ledger/chain.js';
import type { Config } from '../platform/config.js';
import { openWriter } from '../platform/database/data-source.js';
import { CommandGate } from '../platform/database/gate.js';
import { insertRows, queryRows } from '../platform/database/rows.js';
import { PROJECTED, SCHEMA } from '../schema.js';
import { dropSnapshot } from '../trace/snapshot-file.js';
import { withEmptyTables } from './beside.js';
import { differenceFault, differences } from './compare.js';
import { replay } from './replay.js';
import { onStanding } from './standing.js';
import { type Row, type TableColumns, tableColumns } from './table-rows.js';
import type { VerifyOptions } from './verify.js';

interface RebuildReport {
  /** False when the chain is broken: then nothing was rebuilt. */
  readonly ok: boolean;
  readonly entries: number;
  /** Rows that stood otherwise than the ledger says and were put right. */
  readonly repaired: number;
  /** The broken entry, or what was put right: the first 1,000 of it. */
  readonly faults: readonly Fault[];
}

const MOST_NAMED = 1000;
const BATCH = 1000;

/**
 * Makes the projected tables what the ledger says. The ledger is replayed into empty tables beside the live ones while work goes on;
 * only for the last entries, the comparison and the repair is the write lock held, and all of it is one commit. A server that runs
 * meanwhile keeps links in memory: start it again if links were put right.
 */
export async function rebuildRecord(config: Config, options: Pick<VerifyOptions, 'onProgress'> = {}): Promise<RebuildReport> {
  const writer = await openWriter(config, SCHEMA);
  try {
    const gate = new CommandGate(writer, lockHead);
    const report = await onStanding(config, SCHEMA, (standing) => rebuiltFrom(config, gate, standing, options));
    if (report.repaired > 0) dropSnapshot(config);
    return report;
  } finally {
    await writer.destroy();
  }
}

async function rebuiltFrom(
  config: Config,
  gate: CommandGate,
  standing: EntityManager,
  options: Pick<VerifyOptions, 'onProgress'>,
): Promise<RebuildReport> {
  const chain = await verifyChain(standing);
  if (chain.fault) return { ok: false, entries: chain.sound, repaired: 0, faults: [chain.fault] };
  const tables = tableColumns(standing, PROJECTED);
  const names = tables.map((table) => table.table);
  return withEmptyTables(config, SCHEMA, standing, names, async (rebuilt) => {
    const last = await replay(standing, rebuilt, 0, (done) => options.onProgress?.({ step: 'replay', done, of: chain.sound }));
    return gate.run(async (tx) => {
      const entries = await replay(tx, rebuilt, last);
      const faults: Fault[] = [];
      let repaired = 0;
      for (const table of tables) repaired += await repair(tx, rebuilt, table, faults);
      return { ok: true, entries, repaired, faults };
    });
  });
}

/** Takes out what should not stand, then puts in what is missing: in this order no two rows ever claim the same unique value. */
async function repair(tx: EntityManager, rebuilt: EntityManager, table: TableColumns, faults: Fault[]): Promise<number> {
  let repaired = 0;
  for await (const difference of differences(tx, rebuilt, table)) {
    repaired += 1;
    if (faults.length < MOST_NAMED) faults.push(differenceFault(difference));
    if (difference.live) await takeOut(tx, table, difference.live);
  }
  if (repaired === 0) return 0;
  let missing: Row[] = [];
  for await (const difference of differences(tx, rebuilt, table)) {
    missing.push(difference.rebuilt!);
    if (missing.length < BATCH) continue;
    await insertRows(tx, table.table, table.columns, missing);
    missing = [];
  }
  await insertRows(tx, table.table, table.columns, missing);
  return repaired;
}

async function takeOut(tx: EntityManager, { table, key }: TableColumns, row: Row): Promise<void> {
  const where = key.map((column) => `"${column}" = ?`).join(' AND ');
  await queryRows(tx, `DELETE FROM "${table}" WHERE ${where}`, row.slice(0, key.length));
}
