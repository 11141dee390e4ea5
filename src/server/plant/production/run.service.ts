import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { Reasons, Refusal } from '../../../../shared/refusal.js';
import { givenQuantity } from '../../platform/http/given.js';
import { Reader } from '../../platform/database/reader.js';
import { Lineage } from '../../trace/lineage.js';
import { Commands } from '../commands.js';
import type { Actor } from '../people/access.js';
import { decideHeel } from './charging.decide.js';
import { decideExplain } from './explaining.decide.js';
import type { ChargeHeelDto, ExplainYieldDto, StartRunDto } from './run.dto.js';
import type { RunState } from './run-state.facts.js';
import { chargingState, runState } from './run-state.query.js';
import type { RunHeadView, RunView } from './run-view.dto.js';
import { type RunFilter, runList, runView } from './run-view.query.js';
import { decideStart } from './start.decide.js';
import { startState } from './start.query.js';

/** The run, or a refusal that there is none of that code. */
export async function runOrRefuse(tx: EntityManager, run: string): Promise<RunState> {
  const state = await runState(tx, run);
  if (!state) throw new Refusal('unknown', [{ code: 'run-unknown', detail: `no run ${run}` }]);
  return state;
}

/** Starting runs, their heel, and reading them. */
@Injectable()
export class RunService {
  constructor(
    private readonly commands: Commands,
    private readonly reader: Reader,
    private readonly lineage: Lineage,
  ) {}

  start(actor: Actor, dto: StartRunDto): Promise<RunView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const { planned, takeHeel, commandId: _, ...rest } = dto;
      const command = {
        ...rest,
        people: dto.people ?? [actor.person],
        startedAt: dto.startedAt ?? at,
        plannedMicro: givenQuantity(planned),
      };
      const started = decideStart(command, await startState(tx, command, at));
      await record([started]);
      const run = await runOrRefuse(tx, started.run);
      if (takeHeel && run.heel.length > 0) await record([await this.#heel(tx, run, actor, { chargedAt: command.startedAt }, at)]);
      return (await runView(tx, started.run))!;
    });
  }

  chargeHeel(actor: Actor, code: string, dto: ChargeHeelDto): Promise<RunView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      await record([await this.#heel(tx, await runOrRefuse(tx, code), actor, { ...dto, chargedAt: dto.chargedAt ?? at }, at)]);
      return (await runView(tx, code))!;
    });
  }

  explain(actor: Actor, code: string, dto: ExplainYieldDto): Promise<RunView> {
    return this.commands.run(actor, dto, async (tx, record) => {
      const view = await runView(tx, code);
      if (!view) throw new Refusal('unknown', [{ code: 'run-unknown', detail: `no run ${code}` }]);
      await record([decideExplain(code, dto, view.investigations)]);
      return (await runView(tx, code))!;
    });
  }

  runs(filter: RunFilter): Promise<RunHeadView[]> {
    return runList(this.reader.manager, filter, 500);
  }

  async run(code: string): Promise<RunView> {
    const view = await runView(this.reader.manager, code);
    if (!view) throw new Refusal('unknown', [{ code: 'run-unknown', detail: `no run ${code}` }]);
    return view;
  }

  async #heel(
    tx: EntityManager,
    run: RunState,
    actor: Actor,
    asked: { chargedAt: string; deviationReason?: string | undefined },
    at: string,
  ) {
    const wanted = run.heel.map((part) => ({ lot: part.lot, spans: part.spans }));
    const state = await chargingState(tx, this.lineage, run, wanted, at);
    return decideHeel({ chargedAt: asked.chargedAt, by: actor.person, deviationReason: asked.deviationReason }, state);
  }
}

/** Every reason at once, gathered while a request is being understood. */
export function gathered<T>(work: (no: Reasons) => T): T {
  const no = new Reasons();
  const result = work(no);
  no.throwIfAny();
  return result;
}
