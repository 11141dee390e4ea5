import { createPrivateKey, generateKeyPairSync, type KeyObject, randomUUID } from 'node:crypto';
import { existsSync } from 'node:fs';
import { link, mkdir, open, readFile, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Config } from '../platform/config.js';

/** Where the key that signs checkpoints lies: a file of its own, apart from the database whose history it vouches for. */
export const plantKeyFile = (config: Config): string => config.checkpointKey ?? join(config.dataDir, 'checkpoint-key.pem');

/** The plant's Ed25519 key, or null if none has been made yet. */
export async function knownPlantKey(config: Config): Promise<KeyObject | null> {
  const file = plantKeyFile(config);
  return existsSync(file) ? readKey(file) : null;
}

/**
 * The plant's Ed25519 key, made at first need. Several processes that need it at once end with the same one: whoever comes second finds
 * the name taken.
 * @see docs/rules/ledger.md L-16
 */
export async function plantKey(config: Config): Promise<KeyObject> {
  const file = plantKeyFile(config);
  if (!existsSync(file)) await makeKey(file);
  return readKey(file);
}

async function makeKey(file: string): Promise<void> {
  const { privateKey } = generateKeyPairSync('ed25519');
  await mkdir(dirname(file), { recursive: true });
  const unfinished = `${file}.${randomUUID()}.unfinished`;
  const handle = await open(unfinished, 'wx', 0o600);
  try {
    await handle.writeFile(privateKey.export({ type: 'pkcs8', format: 'pem' }));
    await handle.sync();
    await link(unfinished, file); // never over a key that is there
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  } finally {
    await handle.close();
    await rm(unfinished, { force: true });
  }
}

async function readKey(file: string): Promise<KeyObject> {
  const key = createPrivateKey(await readFile(file));
  if (key.asymmetricKeyType !== 'ed25519') throw new Error(`${file} holds no Ed25519 key`);
  return key;
}
