import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { QualityDecisionDto, QualityDecisionView } from './release.dto.js';
import { ReleaseService } from './release.service.js';

@Controller('lots/:lot')
export class ReleaseController {
  constructor(private readonly releases: ReleaseService) {}

  /** Releases a lot, or pieces of it, for use and shipment: a signed decision. */
  @Post('release')
  @May('quality')
  releaseLot(@CurrentActor() actor: Actor, @Param('lot') lot: string, @Body() body: QualityDecisionDto): Promise<QualityDecisionView> {
    return this.releases.release(actor, lot, body);
  }

  /** Does not accept a lot, or pieces of it: a signed decision. */
  @Post('non-acceptance')
  @May('quality')
  refuseLot(@CurrentActor() actor: Actor, @Param('lot') lot: string, @Body() body: QualityDecisionDto): Promise<QualityDecisionView> {
    return this.releases.refuse(actor, lot, body);
  }

  /** Takes an earlier decision back, into quarantine: a signed decision. */
  @Post('reconsideration')
  @May('quality')
  reconsiderLot(@CurrentActor() actor: Actor, @Param('lot') lot: string, @Body() body: QualityDecisionDto): Promise<QualityDecisionView> {
    return this.releases.reconsider(actor, lot, body);
  }

  /** Every quality decision on a lot, first to last. */
  @Get('decisions')
  @May(...EVERYONE)
  lotDecisions(@Param('lot') lot: string): Promise<QualityDecisionView[]> {
    return this.releases.decisions(lot);
  }
}
