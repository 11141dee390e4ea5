import { Injectable } from '@nestjs/common';
import { Lineage } from '../../trace/lineage.js';
import { Commands } from '../commands.js';
import type { Actor } from '../people/access.js';
import { askedCharges, askedReturns, serialsAsked } from './asked-charges.js';
import { decideChangeovers } from './changeover.decide.js';
import { decideCharge } from './charging.decide.js';
import type { ChargeRunDto, RecordChangeoversDto, ReturnChargesDto } from './run.dto.js';
import { gathered, runOrRefuse } from './run.service.js';
import { chargingState, knownLocations } from './run-state.query.js';
import type { RunView } from './run-view.dto.js';
import { runView } from './run-view.query.js';
import { findSerials } from './serials.query.js';
import { decideUncharge } from './uncharging.decide.js';
import { lastBatches } from './vessel.query.js';

/** What goes into a run, comes back of it, and where lots changed over. */
@Injectable()
export class ChargingService {
  constructor(
    private readonly commands: Commands,
    private readonly lineage: Lineage,
  ) {}

  charge(actor: Actor, code: string, dto: ChargeRunDto): Promise<RunView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const run = await runOrRefuse(tx, code);
      const found = await findSerials(tx, serialsAsked(dto.charges));
      const asks = gathered((no) => askedCharges(no, dto.charges, found, { at, by: actor.person }));
      const wanted = asks.map((ask) => ({ lot: ask.lot, spans: ask.spans ?? null }));
      await record([decideCharge(asks, await chargingState(tx, this.lineage, run, wanted, at))]);
      return (await runView(tx, code))!;
    });
  }

  takeBack(actor: Actor, code: string, dto: ReturnChargesDto): Promise<RunView> {
    return this.commands.run(actor, dto, async (tx, record) => {
      const run = await runOrRefuse(tx, code);
      const asks = askedReturns(dto.returns);
      const known = await knownLocations(
        tx,
        asks.flatMap((ask) => (ask.location === undefined ? [] : [ask.location])),
      );
      const vessels = await lastBatches(
        tx,
        run.charges.map((charge) => charge.takenFrom),
      );
      await record([decideUncharge(asks, dto.reason, { run, known, vessels })]);
      return (await runView(tx, code))!;
    });
  }

  changeOver(actor: Actor, code: string, dto: RecordChangeoversDto): Promise<RunView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const run = await runOrRefuse(tx, code);
      const asks = dto.changeovers.map((ask) => ({ lot: ask.lot, fromPiece: ask.fromPiece, changedAt: ask.changedAt ?? at }));
      await record([decideChangeovers(asks, run, at)]);
      return (await runView(tx, code))!;
    });
  }
}
