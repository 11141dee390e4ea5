import { type BeforeApplicationShutdown, Inject, Injectable, Logger } from '@nestjs/common';
import { Refusal } from '../../../shared/refusal.js';
import type { Actor } from '../plant/people/access.js';
import { nextDocument } from '../plant/stock/codes.query.js';
import { Clock } from '../platform/clock.js';
import { CONFIG, type Config } from '../platform/config.js';
import { CommandGate } from '../platform/database/gate.js';
import { Reader } from '../platform/database/reader.js';
import { givenNote } from './given-note.js';
import type { StartVerificationDto, VerificationView } from './verification.dto.js';
import { begin, end, latestRunning, latestVerifications, noteProgress, verification, viewOf } from './verification.table.js';
import { type Progress, verifyRecord, type VerifyOptions, type VerifyReport } from './verify.js';

/** How often a running check says how far it is. */
const SAY_EVERY_MS = 2000;

class Stopping extends Error {}

/** Checks of the record that run beside the work: started, left, and come back to. One at a time. */
@Injectable()
export class VerificationService implements BeforeApplicationShutdown {
  readonly #log = new Logger('verification');
  #running: Promise<void> | null = null;
  #stopping = false;

  constructor(
    private readonly gate: CommandGate,
    private readonly reader: Reader,
    @Inject(Clock) private readonly clock: Clock,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  /** Starts a check, or answers the one that runs already. */
  async start(actor: Actor, dto: StartVerificationDto): Promise<VerificationView> {
    const known = knownBefore(dto);
    const at = this.clock.now();
    const { row, isNew } = await this.gate.run(async (tx) => {
      const earlier = await latestRunning(tx, at);
      if (earlier) return { row: earlier, isNew: false };
      const code = await nextDocument(tx, 'verification', 'VF');
      return { row: await begin(tx, { verification: code, startedBy: actor.person }, at), isNew: true };
    });
    if (isNew) this.#running = this.#run(row.verification, known);
    return viewOf(row, at);
  }

  async get(code: string): Promise<VerificationView> {
    const row = await verification(this.reader.manager, code);
    if (!row) throw new Refusal('unknown', [{ code: 'verification-unknown', detail: `no check ${code} of the record was started` }]);
    return viewOf(row, this.clock.now());
  }

  async list(): Promise<VerificationView[]> {
    return (await latestVerifications(this.reader.manager)).map((row) => viewOf(row, this.clock.now()));
  }

  /** A stop does not wait for a long check: it ends between two pages and is told as interrupted. */
  async beforeApplicationShutdown(): Promise<void> {
    this.#stopping = true;
    await this.#running;
  }

  async #run(code: string, known: VerifyOptions['known']): Promise<void> {
    let report: VerifyReport | null = null;
    try {
      report = await verifyRecord(this.config, { known, onProgress: this.#teller(code) });
    } catch (error) {
      if (!(error instanceof Stopping)) this.#log.error(error instanceof Error ? (error.stack ?? error.message) : String(error));
    }
    await this.gate
      .run((tx) => end(tx, code, this.clock.now(), report))
      .catch((error: unknown) => this.#log.error(`the end of check ${code} could not be written: ${String(error)}`));
  }

  #teller(code: string): (progress: Progress) => void {
    let said = performance.now();
    return ({ step, done, of }) => {
      if (this.#stopping) throw new Stopping('the server stops');
      if (performance.now() - said < SAY_EVERY_MS) return;
      said = performance.now();
      this.gate
        .run((tx) => noteProgress(tx, code, this.clock.now(), step, done, of))
        .catch((error: unknown) => this.#log.warn(`the progress of check ${code} could not be written: ${String(error)}`));
    };
  }
}

/** What of an earlier ledger the check is given. */
function knownBefore({ knownSeq, knownHash, checkpoint }: StartVerificationDto): VerifyOptions['known'] {
  const isHead = knownSeq !== undefined && knownHash !== undefined;
  if (checkpoint === undefined) return isHead ? { seq: knownSeq, hash: knownHash } : undefined;
  if (!isHead) return givenNote(checkpoint, '/checkpoint').checkpoint;
  throw new Refusal('malformed', [
    { code: 'one-known', detail: 'give a position and its hash, or a checkpoint, not both', pointer: '/checkpoint' },
  ]);
}
