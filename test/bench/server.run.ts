import { KeysService } from '../../src/server/plant/people/keys.service.js';
import { benchConfig, openApp } from './bench-plant.js';

/** A server of its own on the data of a folder. Says its port, and with `key` a key to read with, once it answers. */
const app = await openApp(benchConfig(process.argv[2]!));
await app.listen(0, '127.0.0.1');
const { port } = app.getHttpServer().address() as { port: number };
const key = process.argv[3] === 'key' ? (await app.get(KeysService).createKey(`bench-${process.pid}`, 'auditor')).key : null;
console.log(JSON.stringify({ port, key, rssMegabytes: process.memoryUsage().rss / 1e6 }));
process.once('SIGTERM', () => {
  void app.close().then(() => process.exit(0));
});
