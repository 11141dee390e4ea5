import 'reflect-metadata';
import cookie from '@fastify/cookie';
import multipart from '@fastify/multipart';
import { NestFactory } from '@nestjs/core';
import { FastifyAdapter, type NestFastifyApplication } from '@nestjs/platform-fastify';
import { AppModule } from './app.module.js';
import type { Clock } from './platform/clock.js';
import type { Config } from './platform/config.js';
import { validation } from './platform/http/validation.js';

/** Builds the server without listening. */
export async function createApp(config: Config, clock?: Clock): Promise<NestFastifyApplication> {
  const app = await NestFactory.create<NestFastifyApplication>(AppModule.with(config, clock), new FastifyAdapter({ trustProxy: 'loopback' }), {
    logger: ['error', 'warn'],
    abortOnError: false,
  });
  app.setGlobalPrefix('api');
  app.useGlobalPipes(validation());
  await app.register(cookie as never);
  await app.register(multipart as never);
  return app;
}
