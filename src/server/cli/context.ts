import type { INestApplicationContext } from '@nestjs/common';
import { NestFactory } from '@nestjs/core';
import type { Command } from 'commander';
import { AppModule } from '../app.module.js';
import { type Config, readConfig } from '../platform/config.js';

export interface CommonOptions {
  readonly data: string;
  readonly json?: boolean;
}

/** Options given before or after the command's own name. */
export const optionsOf = <Own extends object = object>(command: Command): CommonOptions & Own => command.optsWithGlobals<CommonOptions & Own>();

export const configOf = (options: CommonOptions, over: Partial<Config> = {}): Config => readConfig(process.env, { dataDir: options.data, ...over });

/** Opens the plant without serving it, and closes it whatever happens. */
export async function withPlant<Answer>(config: Config, work: (plant: INestApplicationContext) => Promise<Answer>): Promise<Answer> {
  const plant = await NestFactory.createApplicationContext(AppModule.with(config), { logger: ['error', 'warn'], abortOnError: false });
  try {
    return await work(plant);
  } finally {
    await plant.close();
  }
}
