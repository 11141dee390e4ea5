import { Inject, Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { canonicalJson } from '../../../shared/canonical-json.js';
import { Refusal } from '../../../shared/refusal.js';
import { append, sha256 } from '../ledger/append.js';
import { CommandDone } from '../ledger/command-done.entity.js';
import type { Recorded } from '../ledger/fact.js';
import { Clock } from '../platform/clock.js';
import { CommandGate } from '../platform/database/gate.js';
import type { Actor } from './people/access.js';
import { project } from './project.js';
import type { PlantFact } from './stock/effects.facts.js';

/** What every command may carry: an id made by the client, so that a retry is answered again and not done again. */
export interface Command {
  readonly commandId?: string | undefined;
}

/** Appends facts as this command's entries and projects them; answers what was stored. */
export type RecordFacts = (facts: readonly PlantFact[]) => Promise<readonly Recorded[]>;

/** Carries out commands: gate, lock, retry check, decision, append, projection, one commit. */
@Injectable()
export class Commands {
  constructor(
    private readonly gate: CommandGate,
    @Inject(Clock) private readonly clock: Clock,
  ) {}

  /**
   * Runs one command. `work` reads what it needs from `tx`, decides, and hands its facts to `record`.
   * All or nothing: whatever `work` throws leaves ledger and tables as they were.
   * @see docs/rules/ledger.md L-6
   */
  run<Answer extends object>(
    actor: Actor,
    command: Command,
    work: (tx: EntityManager, record: RecordFacts, at: string) => Promise<Answer>,
  ): Promise<Answer> {
    return this.gate.run(async (tx) => {
      const fingerprint = sha256(canonicalJson(plain(command)));
      const earlier = await answeredBefore(tx, actor, command.commandId, fingerprint);
      if (earlier) return JSON.parse(earlier) as Answer;
      const at = this.clock.now();
      const record: RecordFacts = async (facts) => {
        const entries = await append(tx, facts, { actor: actor.person, at, commandId: command.commandId });
        for (const entry of entries) await project(tx, entry);
        return entries;
      };
      const answer = await work(tx, record, at);
      if (command.commandId !== undefined) {
        await tx.insert(CommandDone, {
          commandId: command.commandId,
          actor: actor.person,
          fingerprint,
          at,
          answer: JSON.stringify(answer),
        });
      }
      return answer;
    });
  }
}

/** Without the password of a signature: it must not be kept, not even hashed together with the rest. */
const plain = (command: Command): unknown =>
  JSON.parse(JSON.stringify(command, (key, value: unknown) => (key === 'password' ? undefined : value)));

async function answeredBefore(tx: EntityManager, actor: Actor, commandId: string | undefined, fingerprint: string): Promise<string | null> {
  if (commandId === undefined) return null;
  const earlier = await tx.findOneBy(CommandDone, { commandId });
  if (!earlier) return null;
  if (earlier.fingerprint === fingerprint && earlier.actor === actor.person) return earlier.answer;
  throw new Refusal('conflict', [
    {
      code: 'command-id-used',
      detail: `command id ${commandId} was used at ${earlier.at} for another command; make a new id for a new command`,
      commandId,
    },
  ]);
}
