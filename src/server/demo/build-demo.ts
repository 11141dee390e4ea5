import { createWriteStream } from 'node:fs';
import { join } from 'node:path';
import { traceInWords } from '../cli/trace-in-words.js';
import type { Config } from '../platform/config.js';
import { RecallService } from '../plant/recall/recall.service.js';
import { verifyRecord } from '../record/verify.js';
import { TraceService } from '../trace/trace.service.js';
import { at, workday } from './calendar.js';
import { freshDemoFolder } from './demo-folder.js';
import { readFernhollow } from './fernhollow.js';
import { DEMO_PASSWORD } from '../plant/people/demo-password.js';
import { PlantDesk } from './plant-desk.js';
import { setUp } from './set-up-plant.js';
import { Story } from './story.js';
import { tellStory } from './tell-story.js';

interface Voice {
  readonly answer: (text: string) => unknown;
  readonly tell: (text: string) => unknown;
}

/** scrypt cost of the demonstration's passwords, which are no secret: three months of signatures should not take minutes. */
const DEMO_SCRYPT_COST = 2 ** 10;

/**
 * Builds the demonstration plant in a fresh folder through the server's own routes, prints the traces of the story's bad lot, and writes
 * the recall report beside the data.
 */
export async function buildDemo(config: Config, voice: Voice): Promise<void> {
  freshDemoFolder(config.dataDir);
  const plant = readFernhollow();
  const quiet = { ...config, scryptCost: DEMO_SCRYPT_COST, logLevel: 'error', requestsPerMinute: 10_000_000, triesPerMinute: 10_000_000 };
  const desk = await PlantDesk.open(quiet, at(workday(0), '06:00'));
  try {
    voice.tell(`building ${plant.name}: three months of both lines through the server's own routes`);
    await setUp(desk, plant);
    const end = await tellStory(new Story(desk, plant));
    const traces = desk.app.get(TraceService);
    voice.answer('\nThe bad lot, forward: everything that holds some of it, and who has it\n');
    voice.answer(traceInWords(await traces.trace({ lot: end.badLot, direction: 'forward', scope: 'both' })));
    voice.answer('\nThe complained-about pump, backward: everything it was made from\n');
    voice.answer(traceInWords(await traces.trace({ serial: end.complainedSerial, item: 'PUMP', direction: 'backward' })));
    const report = join(config.dataDir, `recall-${end.recall}.pdf`);
    await desk.app.get(RecallService).writeReport(end.recall, () => createWriteStream(report));
    voice.answer(`\nThe recall report is ${report}`);
  } finally {
    await desk.close();
  }
  const { ok, entries, faults } = await verifyRecord(config);
  voice.answer(ok ? `The record is whole: ${entries} entries` : `The record has faults: ${JSON.stringify(faults)}`);
  voice.answer(`Everybody's password is "${DEMO_PASSWORD}"; people are ${plant.people.map(({ person }) => person).join(', ')}\n`);
}
