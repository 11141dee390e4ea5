import { Command } from 'commander';
import { type CommonOptions, configOf, optionsOf } from './context.js';

export const serveCommand = (): Command =>
  new Command('serve')
    .description('the server; the first start prints a one-time set-up code for the first administrator')
    .action(async (_own: object, command: Command) => {
      const config = configOf(optionsOf<CommonOptions>(command));
      const { serve } = await import('../serve.js');
      await serve(config);
    });
