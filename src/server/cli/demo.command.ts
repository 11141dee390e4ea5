import { Command } from 'commander';
import { configOf, optionsOf, type CommonOptions } from './context.js';
import { readFernhollow } from '../demo/fernhollow.js';
import { answer, tell } from './say.js';

interface Own extends CommonOptions {
  serve: boolean;
}

/** The demonstration has a folder of its own, unless another is named. */
const DEMO_FOLDER = 'demo-data';

export const demoCommand = (): Command =>
  new Command('demo')
    .description('Fernhollow Works, an invented plant, in a fresh data folder: its main job run once, then served')
    .option('--no-serve', 'only build it')
    .action(async (_own: object, command: Command) => {
      const options = optionsOf<Own>(command);
      const data = command.getOptionValueSourceWithGlobals('data') === 'default' ? DEMO_FOLDER : options.data;
      if (process.env['DATABASE_URL']) tell('DATABASE_URL is left alone: the demonstration lives in its own folder only');
      const { buildDemo } = await import('../demo/build-demo.js');
      const config = { ...configOf({ ...options, data }), databaseUrl: undefined, demo: true, plantName: readFernhollow().name };
      await buildDemo(config, { answer, tell });
      if (options.serve) await (await import('../serve.js')).serve(config);
    });
