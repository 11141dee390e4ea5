import { Command } from 'commander';
import { isDemoFolder } from '../demo/demo-folder.js';
import { type CommonOptions, configOf, optionsOf } from './context.js';

export const serveCommand = (): Command =>
  new Command('serve')
    .description('the server; the first start prints a one-time set-up code for the first administrator')
    .action(async (_own: object, command: Command) => {
      const config = configOf(optionsOf<CommonOptions>(command));
      const demo = config.databaseUrl === undefined && isDemoFolder(config.dataDir);
      const { readFernhollow } = await import('../demo/fernhollow.js');
      const { serve } = await import('../serve.js');
      await serve(demo ? { ...config, demo, plantName: readFernhollow().name } : config);
    });
