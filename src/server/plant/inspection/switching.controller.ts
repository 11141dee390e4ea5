import { Body, Controller, Get, Post, Query } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { DecideSwitchingDto, SwitchingHistoryQueryDto, SwitchingQueryDto, SwitchingStateView, SwitchingStepView } from './switching.dto.js';
import { SwitchingService } from './switching.service.js';

@Controller('switching')
export class SwitchingController {
  constructor(private readonly switching: SwitchingService) {}

  /** How strict the next lot is inspected, by item, supplier, class and plan, and why. */
  @Get()
  @May(...EVERYONE)
  listSwitching(@Query() query: SwitchingQueryDto): Promise<SwitchingStateView[]> {
    return this.switching.states(query);
  }

  /** Every step that switching has taken for an item, first to last, with its reasons. */
  @Get('history')
  @May(...EVERYONE)
  switchingHistory(@Query() query: SwitchingHistoryQueryDto): Promise<SwitchingStepView[]> {
    return this.switching.history(query);
  }

  /** States how production runs, whether reduced inspection is wanted, a resumption or a start: a signed decision. */
  @Post('decisions')
  @May('quality')
  decideOnSwitching(@CurrentActor() actor: Actor, @Body() body: DecideSwitchingDto): Promise<SwitchingStateView[]> {
    return this.switching.decide(actor, body);
  }
}
