import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import {
  CloseUrgentReleaseDto,
  HoldReachView,
  HoldView,
  LiftHoldDto,
  OpenUrgentReleaseDto,
  PlaceHoldDto,
  UrgentReleaseView,
} from './holds.dto.js';
import { HoldsService } from './holds.service.js';

@Controller()
export class HoldsController {
  constructor(private readonly service: HoldsService) {}

  /** Stops lots, pieces or a quantity, with or without what was made from them: a signed decision. */
  @Post('holds')
  @May('quality')
  placeHold(@CurrentActor() actor: Actor, @Body() body: PlaceHoldDto): Promise<HoldReachView> {
    return this.service.place(actor, body);
  }

  /** Every hold, the open ones first. */
  @Get('holds')
  @May(...EVERYONE)
  listHolds(): Promise<HoldView[]> {
    return this.service.holds();
  }

  /** One hold with everything it reaches at this moment. */
  @Get('holds/:hold')
  @May(...EVERYONE)
  getHold(@Param('hold') hold: string): Promise<HoldReachView> {
    return this.service.hold(hold);
  }

  /** Lifts a hold: a signed decision with its reason. */
  @Post('holds/:hold/lift')
  @May('quality')
  liftHold(@CurrentActor() actor: Actor, @Param('hold') hold: string, @Body() body: LiftHoldDto): Promise<HoldReachView> {
    return this.service.lift(actor, hold, body);
  }

  /** Lets a lot be used before release, or although expired or held: a signed decision, open until closed. */
  @Post('urgent-releases')
  @May('quality')
  openUrgentRelease(@CurrentActor() actor: Actor, @Body() body: OpenUrgentReleaseDto): Promise<UrgentReleaseView> {
    return this.service.openUrgent(actor, body);
  }

  /** Urgent releases, the open ones first, with everything made from them. */
  @Get('urgent-releases')
  @May(...EVERYONE)
  listUrgentReleases(): Promise<UrgentReleaseView[]> {
    return this.service.urgentReleases();
  }

  /** Closes an urgent release: a signed decision. */
  @Post('urgent-releases/:urgentRelease/close')
  @May('quality')
  closeUrgentRelease(
    @CurrentActor() actor: Actor,
    @Param('urgentRelease') urgentRelease: string,
    @Body() body: CloseUrgentReleaseDto,
  ): Promise<UrgentReleaseView> {
    return this.service.closeUrgent(actor, urgentRelease, body);
  }
}
