import type { Fault } from '../ledger/chain.js';
import { storeFault } from '../plant/files/file-store.js';
import type { StoredFile } from '../plant/files/files.facts.js';
import type { Config } from '../platform/config.js';

/**
 * Reads every stored file through and names those that are not as they were stored, in the order given, at most so many.
 * @see docs/rules/files.md FI-7
 */
export async function fileFaults(
  config: Config,
  files: readonly StoredFile[],
  most: number,
  onFile: (done: number) => void,
): Promise<Fault[]> {
  const faults: Fault[] = [];
  for (const [i, file] of files.entries()) {
    onFile(i);
    const fault = await storeFault(config, file);
    if (!fault) continue;
    faults.push({ what: fault.what, where: `file ${file.sha256}`, detail: `${file.name}: ${fault.detail}` });
    if (faults.length === most) break;
  }
  return faults;
}
