import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';

/**
 * Before the browser's tests: the invented plant is built once, by the built command line, and copied by each file that opens it. The
 * client is the built one too: what people get is what is tested.
 */
export default function setup(project: TestProject): () => void {
  if (!existsSync('dist/web/index.html') || !existsSync('dist/src/server/cli/main.js')) {
    execFileSync('npm', ['run', 'build'], { stdio: 'inherit', env: { ...process.env, NODE_ENV: 'production' } });
  }
  const folder = mkdtempSync(join(tmpdir(), 'kinledger-demo-'));
  const data = join(folder, 'data');
  execFileSync(process.execPath, ['dist/src/server/cli/main.js', '--data', data, 'demo', '--no-serve'], { stdio: 'ignore' });
  project.provide('demoData', data);
  return () => rmSync(folder, { recursive: true, force: true });
}

declare module 'vitest' {
  export interface ProvidedContext {
    demoData: string;
  }
}
