import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { CorrectLinksDto, RunLinksView } from './link-correcting.dto.js';
import { LinksService } from './links.service.js';

@Controller()
export class LinksController {
  constructor(private readonly links: LinksService) {}

  /** Every link a making step recorded, voided ones too. */
  @Get('runs/:run/links')
  @May(...EVERYONE)
  listRunLinks(@Param('run') run: string): Promise<RunLinksView> {
    return this.links.ofRun(run);
  }

  /** Voids links recorded in error and records links late, for making steps brought over from older records. */
  @Post('link-corrections')
  @May('operator', 'quality', 'administrator')
  correctLinks(@CurrentActor() actor: Actor, @Body() body: CorrectLinksDto): Promise<RunLinksView> {
    return this.links.correct(actor, body);
  }
}
