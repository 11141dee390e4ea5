import { Command } from 'commander';
import { serve } from '../serve.js';
import { type CommonOptions, configOf, optionsOf } from './context.js';

export const serveCommand = (): Command =>
  new Command('serve')
    .description('the server; the first start prints a one-time set-up code for the first administrator')
    .action(async (_own: object, command: Command) => {
      await serve(configOf(optionsOf<CommonOptions>(command)));
    });
