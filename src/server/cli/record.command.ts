import { Command, InvalidArgumentError, Option } from 'commander';
import type { Fault, KnownHead } from '../ledger/chain.js';
import { MachineClock } from '../platform/clock.js';
import { type CommonOptions, configOf, optionsOf, plantOf } from './context.js';
import { answer, REFUSED, tell } from './say.js';
import { progressLine } from './progress.js';

const faultLines = (faults: readonly Fault[]): string[] => faults.map((fault) => `${fault.what} ${fault.where}: ${fault.detail}`);

const UNIT_OF = { chain: 'entry', replay: 'entry', compare: 'table', files: 'file' } as const;

const knownHead = (text: string): KnownHead => {
  const [, seq, hash] = /^(\d+):([0-9a-f]{64})$/.exec(text) ?? [];
  if (seq === undefined || hash === undefined) throw new InvalidArgumentError('an entry number and its hash, as 745:d195…');
  return { seq: Number(seq), hash };
};

export const verifyCommand = (): Command =>
  new Command('verify')
    .description(
      'recompute the chain, replay the ledger beside the live tables, compare every row, check conservation, read every stored file',
    )
    .option('--known <seq:hash>', 'a position somebody wrote down: the ledger must continue it', knownHead)
    .addOption(new Option('--checkpoint <file>', 'a checkpoint somebody kept: the ledger must continue it').conflicts('known'))
    .action(async (_own: object, command: Command) => {
      const options = optionsOf<CommonOptions & { known?: KnownHead; checkpoint?: string }>(command);
      const config = plantOf(options);
      const { keptCheckpoint } = await import('./kept-checkpoint.js');
      const known = options.checkpoint === undefined ? options.known : await keptCheckpoint(config, options.checkpoint);
      const show = progressLine();
      const { verifyRecord } = await import('../record/verify.js');
      const report = await verifyRecord(config, {
        known,
        onProgress: ({ step, done, of }) => show(`${step}: ${UNIT_OF[step]} ${done} of ${of}`),
      });
      show(null);
      if (!report.ok) process.exitCode = REFUSED;
      if (options.json) answer(JSON.stringify(report, null, 2));
      else if (report.ok) {
        const files = report.files === 0 ? '' : `, and ${report.files} stored ${report.files === 1 ? 'file' : 'files'}`;
        answer(`the record is whole: ${report.entries} entries, ending in ${report.hash}${files}`);
      } else
        answer(
          [
            `${report.faults.length} ${report.faults.length === 1 ? 'fault' : 'faults'} in ${report.entries} entries`,
            ...faultLines(report.faults),
          ].join('\n'),
        );
    });

export const rebuildCommand = (): Command =>
  new Command('rebuild')
    .description('make the projected tables what the ledger says, and say what stood otherwise')
    .action(async (_own: object, command: Command) => {
      const options = optionsOf<CommonOptions>(command);
      const show = progressLine();
      const { rebuildRecord } = await import('../record/rebuild.js');
      const report = await rebuildRecord(plantOf(options), { onProgress: ({ step, done, of }) => show(`${step}: entry ${done} of ${of}`) });
      show(null);
      if (!report.ok) process.exitCode = REFUSED;
      if (options.json) answer(JSON.stringify(report, null, 2));
      else if (!report.ok) answer(['the chain is broken: nothing was rebuilt', ...faultLines(report.faults)].join('\n'));
      else answer([`${report.entries} entries replayed, ${report.repaired} rows put right`, ...faultLines(report.faults)].join('\n'));
    });

export const backupCommand = (): Command =>
  new Command('backup')
    .description('write a copy of the record, also while the server works')
    .argument('<file>', 'file to write')
    .action(async (file: string, _own: object, command: Command) => {
      const options = optionsOf<CommonOptions>(command);
      const { backupRecord } = await import('../record/backup.js');
      const report = await backupRecord(plantOf(options), new MachineClock(), file);
      if (report.lost.length > 0) process.exitCode = REFUSED; // it is a good backup of what is there, and somebody must hear what is not
      if (options.json) answer(JSON.stringify(report, null, 2));
      else {
        const files = report.files === 0 ? '' : `, with ${report.files} stored ${report.files === 1 ? 'file' : 'files'}`;
        answer(`${report.entries} entries written to ${file}, ending in ${report.hash}${files}`);
        for (const { lost, why } of report.lost) tell(`not in it: stored file ${lost}: ${why}`);
      }
    });

export const restoreCommand = (): Command =>
  new Command('restore')
    .description('make an empty data folder or database from a backup, and verify it')
    .argument('<file>', 'file that `backup` wrote')
    .action(async (file: string, _own: object, command: Command) => {
      const options = optionsOf<CommonOptions>(command);
      const { restoreRecord } = await import('../record/restore.js');
      const report = await restoreRecord(configOf(options), file);
      if (!report.ok) process.exitCode = REFUSED;
      if (options.json) answer(JSON.stringify(report, null, 2));
      else tell([`${report.entries} entries restored, ending in ${report.hash}`, ...faultLines(report.faults)].join('\n'));
    });
