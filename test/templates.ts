import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';

/** A folder that all test files of a run share: what an empty plant looks like is made once in it, then copied (`test/fresh.ts`). */
export default function setup(project: TestProject): () => void {
  const folder = mkdtempSync(join(tmpdir(), 'kinledger-templates-'));
  project.provide('templates', folder);
  return () => rmSync(folder, { recursive: true, force: true });
}

declare module 'vitest' {
  export interface ProvidedContext {
    templates: string;
  }
}
