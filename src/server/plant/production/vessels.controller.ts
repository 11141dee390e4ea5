import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { RunView } from './run-view.dto.js';
import { CleanVesselDto, EmptyVesselDto, TransferBatchDto, TransferRunDto, VesselContentView } from './vessel.dto.js';
import { VesselService } from './vessel.service.js';

@Controller()
export class VesselsController {
  constructor(private readonly vessels: VesselService) {}

  /** What is in a vessel now, what was in it last, and whether it was cleaned since. */
  @Get('vessels/:vessel/content')
  @May(...EVERYONE)
  getVesselContent(@Param('vessel') vessel: string): Promise<VesselContentView> {
    return this.vessels.content(vessel);
  }

  /** Records that what was left in a vessel was taken out. */
  @Post('vessels/:vessel/emptied')
  @May('operator', 'administrator')
  emptyVessel(@CurrentActor() actor: Actor, @Param('vessel') vessel: string, @Body() body: EmptyVesselDto): Promise<VesselContentView> {
    return this.vessels.empty(actor, vessel, body);
  }

  /** Records that a vessel was cleaned. */
  @Post('vessels/:vessel/cleaned')
  @May('operator', 'administrator')
  cleanVessel(@CurrentActor() actor: Actor, @Param('vessel') vessel: string, @Body() body: CleanVesselDto): Promise<VesselContentView> {
    return this.vessels.clean(actor, vessel, body);
  }

  /** Pumps a batch, or part of it, into another vessel. */
  @Post('vessels/:vessel/transfers')
  @May('operator', 'administrator')
  transferBatch(@CurrentActor() actor: Actor, @Param('vessel') vessel: string, @Body() body: TransferBatchDto): Promise<VesselContentView> {
    return this.vessels.transferBatch(actor, vessel, body);
  }

  /** Goes on with a running batch in another vessel. */
  @Post('runs/:run/transfers')
  @May('operator', 'administrator')
  transferRun(@CurrentActor() actor: Actor, @Param('run') run: string, @Body() body: TransferRunDto): Promise<RunView> {
    return this.vessels.transferRun(actor, run, body);
  }
}
