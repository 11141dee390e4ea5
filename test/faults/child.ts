import 'reflect-metadata';
import { createApp } from '../../src/server/app.js';
import type { Config } from '../../src/server/platform/config.js';

/** A server in a process of its own, which the test kills. Says its address on stdout once it listens. */
const config = JSON.parse(process.argv[2]!) as Config;
const app = await createApp(config);
await app.listen(0, '127.0.0.1');
process.stdout.write(`${await app.getUrl()}\n`);
