import 'reflect-metadata';
import { writeFileSync } from 'node:fs';
import { NestFactory } from '@nestjs/core';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { AppModule } from './app.module.js';
import { openApi } from './openapi.js';
import { readConfig } from './platform/config.js';
import { adapter } from './platform/http/fastify.js';

/**
 * Writes the OpenAPI document to the file named on the command line, without a database: the browser client is typed from it.
 * `preview` makes Nest read controllers without building any provider.
 */
const config = readConfig({});
const app = await NestFactory.create<NestFastifyApplication>(AppModule.with(config), adapter(config), { preview: true, logger: ['error'] });
app.setGlobalPrefix('api');
writeFileSync(process.argv[2] ?? 'openapi.json', `${JSON.stringify(openApi(app), null, 1)}\n`);
