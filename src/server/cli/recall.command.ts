import { createWriteStream } from 'node:fs';
import { Command } from 'commander';
import { type CommonOptions, optionsOf, plantOf, withPlant } from './context.js';
import { answer } from './say.js';

interface Own extends CommonOptions {
  out: string;
}

const reportCommand = (): Command =>
  new Command('report')
    .description('write the report of a recall as PDF')
    .argument('<number>', 'number of the recall or drill')
    .requiredOption('--out <file>', 'file to write')
    .action(async (number: string, _own: object, command: Command) => {
      const options = optionsOf<Own>(command);
      const { RecallService } = await import('../plant/recall/recall.service.js');
      const { pages } = await withPlant(plantOf(options), (plant) =>
        plant.get(RecallService).writeReport(number, () => createWriteStream(options.out)),
      );
      answer(options.json ? JSON.stringify({ recall: number, file: options.out, pages }, null, 2) : `${options.out}: ${pages} pages`);
    });

export const recallCommand = (): Command =>
  new Command('recall').description('recalls and drills').addCommand(reportCommand().exitOverride());
