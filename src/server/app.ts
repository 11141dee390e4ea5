import 'reflect-metadata';
import { NestFactory } from '@nestjs/core';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { AppModule } from './app.module.js';
import { serveOpenApi } from './openapi.js';
import type { Clock } from './platform/clock.js';
import type { Config } from './platform/config.js';
import { adapter, furnish } from './platform/http/fastify.js';
import { LogBridge } from './platform/http/log.js';
import { nullIsLeftOut, validation } from './platform/http/validation.js';
import { serveWebClient } from './platform/http/web-client.js';

/** Builds the server without listening. */
export async function createApp(config: Config, clock?: Clock): Promise<NestFastifyApplication> {
  const http = adapter(config);
  const app = await NestFactory.create<NestFastifyApplication>(AppModule.with(config, clock), http, {
    logger: new LogBridge(http.getInstance().log),
    abortOnError: false,
    bodyParser: false, // Fastify's own reads JSON and nothing else; Nest's would take web forms too
  });
  app.setGlobalPrefix('api');
  app.useGlobalPipes(nullIsLeftOut, validation());
  await furnish(app);
  serveOpenApi(app);
  await serveWebClient(app);
  return app;
}
