import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { createApp } from './app.js';
import { SetUpService } from './plant/people/set-up.service.js';
import type { Config } from './platform/config.js';

/** How long requests under way may take to finish once the server is told to stop. */
const STOP_WITHIN_MS = 10_000;

/** Serves until told to stop. Prints where, and the set-up code while there is no administrator. */
export async function serve(config: Config): Promise<NestFastifyApplication> {
  const app = await createApp(config);
  await app.listen(config.port, config.host);
  stopOnSignal(app);
  const address = await app.getUrl();
  process.stdout.write(`Kinledger listens at ${address}\nOpen it in a browser; the API is described at ${address}/api/docs\n`);
  const code = await app.get(SetUpService).prepare();
  if (code !== null) process.stdout.write(setUpHint(code, address));
  return app;
}

const setUpHint = (code: string, address: string): string => `
There is no administrator yet. Set-up code, good once and until the next start: ${code}
Make the first one in a browser at ${address}, or by

  curl -X POST ${address}/api/set-up -H 'content-type: application/json' \\
    -d '{"code": "${code}", "person": "YOUR CODE", "password": "AT LEAST 12 CHARACTERS"}'

`;

/** Stops accepting, lets requests finish, closes the database; gives up after a while rather than hang. */
function stopOnSignal(app: NestFastifyApplication): void {
  let stopping = false;
  const stop = (signal: NodeJS.Signals): void => {
    if (stopping) process.exit(1); // asked twice
    stopping = true;
    const late = setTimeout(() => {
      process.stderr.write(`still busy ${STOP_WITHIN_MS / 1000} s after ${signal}: stopping anyway; what was acknowledged is recorded\n`);
      process.exit(1);
    }, STOP_WITHIN_MS);
    late.unref();
    app.close().then(
      () => process.exit(0),
      (error: unknown) => {
        process.stderr.write(`${String(error)}\n`);
        process.exit(1);
      },
    );
  };
  process.on('SIGTERM', stop);
  process.on('SIGINT', stop);
}
