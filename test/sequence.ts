import { relative } from 'node:path';
import type { TestSpecification } from 'vitest/node';
import { BaseSequencer } from 'vitest/node';

/** What runs longest comes first, so that no worker is left with it at the end; small files come last and fill what is left. */
const FIRST = [
  /^test\/faults\/nth-statement/,
  /^test\/faults\//,
  /^test\/cli\//,
  /^test\/ledger\//,
  /^test\/flow\//,
  /^test\/(?!web)/,
  /^test\/web\//,
];

/** The order of test files: all of one project together, because a worker is kept for the next file only within its project. */
export class Longest extends BaseSequencer {
  override sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const root = this.ctx.config.root;
    const rank = (file: TestSpecification): number => {
      const place = FIRST.findIndex((pattern) => pattern.test(relative(root, file.moduleId)));
      return place === -1 ? FIRST.length : place;
    };
    return Promise.resolve(files.toSorted((a, b) => rank(a) - rank(b) || (a.moduleId < b.moduleId ? -1 : 1)));
  }
}
