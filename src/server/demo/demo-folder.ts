import { existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Refusal } from '../../../shared/refusal.js';

/** Marks a folder as the demonstration's own, so that only such a folder is ever emptied. */
const MARK = 'fernhollow-demo.txt';

/** Whether a folder is the demonstration's: then every page says so. */
export const isDemoFolder = (dir: string): boolean => existsSync(join(dir, MARK));

/**
 * A fresh, empty folder for the demonstration. One that an earlier demonstration made is emptied; anything else is left alone.
 * @throws Refusal when the folder holds something that is not the demonstration's
 */
export function freshDemoFolder(dir: string): void {
  if (existsSync(dir) && readdirSync(dir).length > 0) {
    if (!existsSync(join(dir, MARK))) {
      throw new Refusal('conflict', [
        { code: 'not-a-demo-folder', detail: `${dir} holds something else than the demonstration: name an empty folder` },
      ]);
    }
    rmSync(dir, { recursive: true });
  }
  mkdirSync(dir, { recursive: true, mode: 0o700 });
  writeFileSync(join(dir, MARK), 'The invented plant of the demonstration. `kinledger demo` empties this folder and makes it again.\n');
}
