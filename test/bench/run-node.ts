import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';

/** A compiled file of this folder as a process of its own; its output is this one's unless `stdout` is piped. */
export const startNode = (file: string, args: readonly string[], stdout: 'inherit' | 'pipe' = 'inherit'): ChildProcess =>
  spawn(process.execPath, ['--expose-gc', fileURLToPath(new URL(file, import.meta.url)), ...args], {
    stdio: ['ignore', stdout, 'inherit'],
  });

/** Runs a compiled file of this folder to its end and answers its exit status. */
export async function runNode(file: string, args: readonly string[]): Promise<number> {
  const [status] = (await once(startNode(file, args), 'exit')) as [number | null];
  return status ?? 1;
}

/** The same for what others build on. */
export async function mustRunNode(file: string, args: readonly string[]): Promise<void> {
  const status = await runNode(file, args);
  if (status !== 0) throw new Error(`${file} ended with status ${status}`);
}
