#!/usr/bin/env node
import 'reflect-metadata';
import { Command } from 'commander';
import { backupCommand, rebuildCommand, restoreCommand, verifyCommand } from './record.command.js';
import { demoCommand } from './demo.command.js';
import { importCommand } from './import.command.js';
import { keyCommand } from './key.command.js';
import { planCommand } from './plan.command.js';
import { recallCommand } from './recall.command.js';
import { serveCommand } from './serve.command.js';
import { traceCommand } from './trace.command.js';
import { failed, WRONG_USAGE } from './say.js';

/** Exit status: 0 done, 1 refused or faults found, 2 wrong usage. */
const program = new Command('kinledger')
  .description('Lot traceability and nonconformance ledger for a mixed product plant')
  .option('--data <dir>', 'folder of the SQLite file and stored files', 'data')
  .option('--json', 'machine-readable answer on stdout, messages on stderr')
  .configureHelp({ showGlobalOptions: true })
  .exitOverride();

for (const command of [
  serveCommand(),
  demoCommand(),
  importCommand(),
  traceCommand(),
  planCommand(),
  recallCommand(),
  keyCommand(),
  verifyCommand(),
  rebuildCommand(),
  backupCommand(),
  restoreCommand(),
]) {
  program.addCommand(command.exitOverride());
}

// A reader that has seen enough (`… | head`) ends the command quietly.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit(0);
});

try {
  await program.parseAsync();
} catch (error) {
  const usage = error as { code?: string; exitCode?: number };
  if (usage.code?.startsWith('commander.')) process.exitCode = usage.exitCode === 0 ? 0 : WRONG_USAGE;
  else await failed(error, program.opts<{ json?: boolean }>().json ?? false);
}
