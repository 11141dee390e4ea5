import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

/** Codes as the sources give them: to `Reasons`, in a `Refusal`, in the table of HTTP errors, or as a fault of something scanned. */
const GIVEN = [
  /\b(?:unknown|conflict|forbidden|malformed)\(\s*'([a-z][a-z0-9-]+)'/g,
  /\bcode: '([a-z][a-z0-9-]+)'/g,
  /\b(?:valueFault|LinkFault)\(\s*'([a-z][a-z0-9-]+)'/g,
];

function codesInSources(): Set<string> {
  const codes = new Set<string>();
  for (const root of ['src/server', 'shared']) {
    for (const entry of readdirSync(root, { recursive: true, withFileTypes: true })) {
      if (!entry.isFile() || !entry.name.endsWith('.ts') || entry.name.endsWith('.test.ts')) continue;
      const source = readFileSync(join(entry.parentPath, entry.name), 'utf8');
      for (const pattern of GIVEN) for (const match of source.matchAll(pattern)) codes.add(match[1]!);
    }
  }
  return codes;
}

const documented = (): Set<string> =>
  new Set([...readFileSync('docs/problems.md', 'utf8').matchAll(/^\| `([a-z0-9-]+)` \|/gm)].map((match) => match[1]!));

describe('reasons of refusals', () => {
  it('every code in the sources is explained in docs/problems.md, and no other', () => {
    const inSources = [...codesInSources()].toSorted();
    expect(inSources.length).toBeGreaterThan(20);
    expect([...documented()].toSorted()).toEqual(inSources);
  });
});
