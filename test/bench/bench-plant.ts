import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { createApp } from '../../src/server/app.js';
import { type Config, readConfig } from '../../src/server/platform/config.js';
import { mustRunNode } from './run-node.js';

/** Where the folder of files and the data that come of them stand. */
export const filesIn = (folder: string): string => join(folder, 'files');
const dataIn = (folder: string): string => join(folder, 'data');

export const benchConfig = (folder: string): Config =>
  readConfig({}, { dataDir: dataIn(folder), databaseUrl: undefined, logLevel: 'error', requestsPerMinute: 10_000_000 });

/** Builds the server on a data folder, without listening. */
export async function openApp(config: Config): Promise<NestFastifyApplication> {
  const app = await createApp(config);
  await app.init();
  return app;
}

/** The million-link plant as files, written by a process of its own so that its memory is not counted to the import. */
export async function withFiles(folder: string): Promise<string> {
  const files = filesIn(folder);
  if (!existsSync(join(files, 'shipments.csv'))) await mustRunNode('files.run.js', [files]);
  return files;
}

/** The million-link plant brought over, by the bench of importing if that has not run in this folder. */
export async function withPlant(folder: string): Promise<Config> {
  const config = benchConfig(folder);
  if (!existsSync(join(config.dataDir, 'genealogy.snapshot'))) await mustRunNode('main.js', ['--only', 'import', '--folder', folder]);
  return config;
}
