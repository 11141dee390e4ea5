import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { BuildRecordView, ReplacePartDto } from './replacing.dto.js';
import { ReplacingService } from './replacing.service.js';
import { RunView } from './run-view.dto.js';

@Controller()
export class UnitsController {
  constructor(private readonly replacing: ReplacingService) {}

  /** Replaces a part in a unit, within a rework run. */
  @Post('runs/:run/replacements')
  @May('operator', 'administrator')
  replacePart(@CurrentActor() actor: Actor, @Param('run') run: string, @Body() body: ReplacePartDto): Promise<RunView> {
    return this.replacing.replace(actor, run, body);
  }

  /** What a unit was built of, what is in it now, and what was replaced. */
  @Get('units/:item/:serial/build-record')
  @May(...EVERYONE)
  getBuildRecord(@Param('item') item: string, @Param('serial') serial: string): Promise<BuildRecordView> {
    return this.replacing.buildRecord(item, serial);
  }
}
