import { Command } from 'commander';
import type { ImportReport } from '../../../shared/api/imports.js';
import { type CommonOptions, configOf, optionsOf, withPlant } from './context.js';
import { progressLine } from './progress.js';
import { answer, REFUSED } from './say.js';
import { columns } from './trace-in-words.js';

interface Own extends CommonOptions {
  dryRun?: boolean;
}

/** Faults shown on a terminal; `--json` has the first thousand. */
const MOST_SHOWN = 50;

const KINDS = [
  ['parties', 'party'],
  ['items', 'item'],
  ['lots', 'lot'],
  ['links', 'link'],
  ['shipments', 'shipment'],
] as const;

export const importCommand = (): Command =>
  new Command('import')
    .description('bring older records over from a folder of CSV files: all of it or nothing')
    .argument('<dir>', 'folder with parties.csv, items.csv, lots.csv, links.csv, shipments.csv (all optional)')
    .option('--dry-run', 'only check')
    .action(async (dir: string, _own: object, command: Command) => {
      const options = optionsOf<Own>(command);
      const show = progressLine();
      const { ImportService } = await import('../plant/import/import.service.js');
      const { COMMAND_LINE } = await import('../plant/people/keys.service.js');
      const report = await withPlant(configOf(options), (plant) =>
        plant.get(ImportService).importFolder(dir, {
          actor: COMMAND_LINE,
          dryRun: options.dryRun ?? false,
          onProgress: ({ file, rows }) => show(`${file}: ${rows.toLocaleString('en')} rows`),
        }),
      );
      show(null);
      if (!report.ok) process.exitCode = REFUSED;
      answer(options.json ? JSON.stringify(report, null, 2) : importInWords(report));
    });

function importInWords(report: ImportReport): string {
  if (!report.ok) {
    const shown = report.faults.slice(0, MOST_SHOWN);
    const rows = shown.map((fault) => [fault.file, String(fault.line ?? ''), fault.column ?? '', fault.value ?? '', fault.detail]);
    const rest = report.faultCount - shown.length;
    return [
      `${report.faultCount.toLocaleString('en')} ${report.faultCount === 1 ? 'fault' : 'faults'}; nothing was written`,
      ...columns([['file', 'line', 'column', 'value', 'reason'], ...rows], [1]),
      ...(rest > 0 ? [`and ${rest.toLocaleString('en')} more`] : []),
    ].join('\n');
  }
  const { counts } = report;
  const what = KINDS.filter(([kind]) => counts[kind] > 0)
    .map(([kind, one]) => `${counts[kind].toLocaleString('en')} ${counts[kind] === 1 ? one : kind}`)
    .join(', ');
  return report.dryRun ? `no faults in ${what}; nothing was written` : `${report.import}: ${what}; the ledger ends at entry ${report.seq}`;
}
