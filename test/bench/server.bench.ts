import { type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { Agent, get } from 'node:http';
import type { TraceAnswer } from '../../shared/api/trace.js';
import type { Bars } from './bar.js';
import { withPlant } from './bench-plant.js';
import { questionsOf } from './engine-questions.js';
import { median, milliseconds } from './measure.js';
import { generatePlant } from './plant-generator.js';
import { indexOfPlant } from './plant-index.js';
import { SIZES } from './plant.js';
import { startNode } from './run-node.js';

const ROUNDS = 41;

interface Started {
  readonly server: ChildProcess;
  readonly port: number;
  readonly key: string;
  readonly rssMegabytes: number;
}

async function start(folder: string, withKey: boolean): Promise<Started> {
  const server = startNode('server.run.js', withKey ? [folder, 'key'] : [folder], 'pipe');
  const [said] = (await once(server.stdout!, 'data')) as [Buffer];
  return { server, ...(JSON.parse(said.toString()) as Omit<Started, 'server'>) };
}

async function stop({ server }: Started): Promise<void> {
  server.kill('SIGTERM');
  await once(server, 'exit');
}

/** From the start of the process until it has answered over HTTP, on a million links. */
export async function benchStart(bars: Bars, folder: string): Promise<void> {
  await withPlant(folder);
  const times: number[] = [];
  let rss = 0;
  for (let round = 0; round < 5; round++) {
    let started: Started | undefined;
    times.push(
      await milliseconds(async () => {
        started = await start(folder, false);
        await ask(new Agent(), started.port, '/api/health', '');
      }),
    );
    rss = started!.rssMegabytes;
    await stop(started!);
  }
  bars.atMost('server start on a million links', median(times) / 1000, 6, 's');
  bars.note('its memory then', rss, 'MB');
}

function ask(agent: Agent, port: number, path: string, key: string): Promise<string> {
  return new Promise((resolve, reject) => {
    const asked = get(
      { host: '127.0.0.1', port, path, agent, headers: key === '' ? {} : { authorization: `Bearer ${key}` } },
      (response) => {
        if (response.statusCode !== 200) reject(new Error(`${path} answered ${response.statusCode}`));
        const chunks: Buffer[] = [];
        response.on('data', (chunk: Buffer) => chunks.push(chunk));
        response.on('end', () => resolve(Buffer.concat(chunks).toString()));
        response.on('error', reject);
      },
    );
    asked.on('error', reject);
  });
}

/** Traces over real HTTP, as JSON, from another process. */
export async function benchTrace(bars: Bars, folder: string): Promise<void> {
  await withPlant(folder);
  const plant = generatePlant(SIZES.million);
  const asked = questionsOf(plant, indexOfPlant(plant)).map((question) => ({ ...question, code: plant.lots[question.lot - 1]!.code }));
  const started = await start(folder, true);
  const agent = new Agent({ keepAlive: true });
  try {
    for (const { name, code, piece, direction } of asked) {
      const path = `/api/trace?lot=${code}&direction=${direction}${piece === null ? '' : `&pieces=${piece}`}`;
      let body = '';
      const times: number[] = [];
      for (let round = -5; round < ROUNDS; round++) {
        const took = await milliseconds(async () => {
          body = await ask(agent, started.port, path, started.key);
        });
        if (round >= 0) times.push(took);
      }
      const { totals } = JSON.parse(body) as TraceAnswer;
      const what = `trace ${name} ${direction}: ${totals.pieces} pieces, ${totals.lots} lots, ${totals.consignees} consignees, ${(body.length / 1024).toFixed(0)} KB`;
      if (totals.pieces >= 400_000) bars.atMost(what, median(times), 50, 'ms');
      else bars.note(what, median(times), 'ms');
    }
  } finally {
    agent.destroy();
    await stop(started);
  }
}
