import { existsSync, mkdirSync, rmSync } from 'node:fs';
import { readFile, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Logger } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import type { Config } from '../platform/config.js';
import { queryRows } from '../platform/database/rows.js';
import { Genealogy } from './genealogy.js';
import { packSnapshot, snapshotCover, SnapshotFault, unpackSnapshot } from './snapshot.js';

/** Beside the database and never part of the record: it may be deleted at any time and is made again. */
const fileOf = (config: Config): string => join(config.dataDir, 'genealogy.snapshot');

async function hashOf(from: EntityManager, seq: number): Promise<string | undefined> {
  const [row] = await queryRows<{ hash: string }>(from, 'SELECT "hash" FROM "ledger_entry" WHERE "seq" = ?', [seq]);
  return row?.hash;
}

/** The index as the snapshot holds it, or an empty one if there is none or it does not belong to this ledger. */
export async function readSnapshot(config: Config, from: EntityManager): Promise<Genealogy> {
  const file = fileOf(config);
  if (!existsSync(file)) return new Genealogy();
  try {
    const packed = await readFile(file);
    const cover = snapshotCover(packed);
    if ((await hashOf(from, cover.seq)) !== cover.hash) throw new SnapshotFault('the snapshot belongs to another ledger');
    return unpackSnapshot(packed, cover);
  } catch (error) {
    if (!(error instanceof SnapshotFault)) throw error;
    new Logger('genealogy').warn(`${error.message}: reading the links from the database instead`);
    return new Genealogy();
  }
}

/** Written beside and renamed, so that a crash leaves the old one. */
export async function writeSnapshot(config: Config, from: EntityManager, genealogy: Genealogy): Promise<void> {
  const hash = await hashOf(from, genealogy.committedSeq);
  if (hash === undefined) return; // an empty ledger has nothing to pack
  mkdirSync(config.dataDir, { recursive: true, mode: 0o700 });
  const file = fileOf(config);
  await writeFile(`${file}.new`, packSnapshot(genealogy, hash), { mode: 0o600 });
  await rename(`${file}.new`, file);
}

/** Forgets the snapshot: the links it was made from have been put right. */
export const dropSnapshot = (config: Config): void => rmSync(fileOf(config), { force: true });
