import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

interface CodedRecord {
  readonly code: string;
  readonly name: string;
}

/** The invented plant, as its file describes it. */
export interface Fernhollow {
  readonly name: string;
  readonly seed: number;
  readonly people: readonly { readonly person: string; readonly name: string; readonly roles: readonly string[] }[];
  readonly locations: readonly CodedRecord[];
  readonly vessels: readonly CodedRecord[];
  readonly lines: readonly CodedRecord[];
  readonly parties: readonly (CodedRecord & { readonly role: string })[];
  readonly items: readonly CodedRecord[];
  readonly recipes: readonly CodedRecord[];
  readonly boms: readonly CodedRecord[];
  readonly defects: readonly CodedRecord[];
  readonly instruments: readonly CodedRecord[];
  /** Inspection plans, by the code of their item. */
  readonly plans: readonly CodedRecord[];
}

/** The project's root, from the sources as well as from the build. */
function projectRoot(): string {
  let dir = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(dir, 'package.json'))) dir = dirname(dir);
  return dir;
}

export const readFernhollow = (): Fernhollow =>
  JSON.parse(readFileSync(join(projectRoot(), 'fixtures', 'plants', 'fernhollow.json'), 'utf8')) as Fernhollow;
