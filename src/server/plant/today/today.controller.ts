import { Controller, Get } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { TodayView } from './today.dto.js';
import { TodayService } from './today.service.js';

@Controller('today')
export class TodayController {
  constructor(private readonly service: TodayService) {}

  /** What waits for the person who asks, by their roles, oldest first, each with the next step. */
  @Get()
  @May(...EVERYONE)
  whatWaits(@CurrentActor() actor: Actor): Promise<TodayView> {
    return this.service.today(actor);
  }
}
