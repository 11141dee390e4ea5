import { existsSync } from 'node:fs';
import type { INestApplicationContext } from '@nestjs/common';
import type { Command } from 'commander';
import { Refusal } from '../../../shared/refusal.js';
import { isDemoFolder } from '../demo/demo-folder.js';
import { readFernhollow } from '../demo/fernhollow.js';
import { type Config, readConfig, sqliteFile } from '../platform/config.js';

export interface CommonOptions {
  readonly data: string;
  readonly json?: boolean;
}

/** Options given before or after the command's own name. */
export const optionsOf = <Own extends object = object>(command: Command): CommonOptions & Own =>
  command.optsWithGlobals<CommonOptions & Own>();

/** What is set for the folder that was named; a demonstration's folder says itself that it is one. */
export function configOf(options: CommonOptions): Config {
  const config = readConfig(process.env, { dataDir: options.data });
  const demo = config.databaseUrl === undefined && isDemoFolder(config.dataDir);
  return demo ? { ...config, demo, plantName: readFernhollow().name } : config;
}

/**
 * The configuration of a plant that is there: a mistyped folder is said, not made.
 * @throws Refusal `no-plant`
 */
export function plantOf(options: CommonOptions): Config {
  const config = configOf(options);
  if (config.databaseUrl === undefined && !existsSync(sqliteFile(config))) {
    throw new Refusal('unknown', [{ code: 'no-plant', detail: `there is no plant in ${options.data}: name its folder with --data` }]);
  }
  return config;
}

/** Opens the plant without serving it, and closes it whatever happens. The server is loaded here and not before: it takes a second. */
export async function withPlant<Answer>(config: Config, work: (plant: INestApplicationContext) => Promise<Answer>): Promise<Answer> {
  const { NestFactory } = await import('@nestjs/core');
  const { AppModule } = await import('../app.module.js');
  const plant = await NestFactory.createApplicationContext(AppModule.with(config), { logger: ['error', 'warn'], abortOnError: false });
  try {
    return await work(plant);
  } finally {
    await plant.close();
  }
}
