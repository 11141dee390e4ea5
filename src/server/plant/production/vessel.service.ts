import { Injectable } from '@nestjs/common';
import { Refusal } from '../../../../shared/refusal.js';
import { givenQuantity } from '../../platform/http/given.js';
import { Reader } from '../../platform/database/reader.js';
import { Lineage } from '../../trace/lineage.js';
import { Commands } from '../commands.js';
import type { Actor } from '../people/access.js';
import { runOrRefuse } from './run.service.js';
import { knownLocations } from './run-state.query.js';
import type { RunView } from './run-view.dto.js';
import { runView } from './run-view.query.js';
import { decideBatchTransfer, decideCleaned, decideEmptied, decideRunTransfer } from './vessel.decide.js';
import type { CleanVesselDto, EmptyVesselDto, TransferBatchDto, TransferRunDto, VesselContentView } from './vessel.dto.js';
import { vesselState } from './vessel.query.js';
import { vesselContentView } from './vessel-view.query.js';

/** Emptying, cleaning, pumping over, and what is in a vessel. */
@Injectable()
export class VesselService {
  constructor(
    private readonly commands: Commands,
    private readonly reader: Reader,
    private readonly lineage: Lineage,
  ) {}

  empty(actor: Actor, vessel: string, dto: EmptyVesselDto): Promise<VesselContentView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const state = await vesselState(tx, this.lineage, { vessel, at });
      const known = dto.location !== undefined && (await knownLocations(tx, [dto.location])).has(dto.location);
      await record([decideEmptied({ emptiedAt: dto.at ?? at, location: dto.location, reason: dto.reason }, state, known)]);
      return (await vesselContentView(tx, vessel))!;
    });
  }

  clean(actor: Actor, vessel: string, dto: CleanVesselDto): Promise<VesselContentView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      await record([decideCleaned({ cleanedAt: dto.at ?? at, method: dto.method }, await vesselState(tx, this.lineage, { vessel, at }))]);
      return (await vesselContentView(tx, vessel))!;
    });
  }

  transferBatch(actor: Actor, vessel: string, dto: TransferBatchDto): Promise<VesselContentView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const quantityMicro = givenQuantity(dto.quantity);
      const from = await vesselState(tx, this.lineage, { vessel, at });
      const to = await vesselState(tx, this.lineage, { vessel: dto.to, at, alsoLeft: true });
      await record([decideBatchTransfer({ lot: dto.lot, quantityMicro, transferredAt: dto.at ?? at }, from, to)]);
      return (await vesselContentView(tx, dto.to))!;
    });
  }

  transferRun(actor: Actor, code: string, dto: TransferRunDto): Promise<RunView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const run = await runOrRefuse(tx, code);
      const to = await vesselState(tx, this.lineage, { vessel: dto.to, at, alsoLeft: true });
      await record([decideRunTransfer(dto.at ?? at, run, to)]);
      return (await runView(tx, code))!;
    });
  }

  async content(vessel: string): Promise<VesselContentView> {
    const view = await vesselContentView(this.reader.manager, vessel);
    if (!view) throw new Refusal('unknown', [{ code: 'vessel-unknown', detail: `no vessel ${vessel}` }]);
    return view;
  }
}
