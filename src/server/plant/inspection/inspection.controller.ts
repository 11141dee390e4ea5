import { Body, Controller, Get, HttpCode, Param, ParseIntPipe, Post, Query } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import {
  BeginInspectionDto,
  DecideInspectionDto,
  InspectionQueryDto,
  RecordResultDto,
  TakeTallyBackDto,
  TallyDto,
} from './inspection.dto.js';
import { InspectionService } from './inspection.service.js';
import { InspectionView, QueuedInspectionView } from './inspection-view.dto.js';

@Controller('inspections')
export class InspectionController {
  constructor(private readonly inspections: InspectionService) {}

  /** What waits to be inspected or is under way, most urgent and oldest first; or what ended, newest first. */
  @Get()
  @May(...EVERYONE)
  listInspections(@Query() query: InspectionQueryDto): Promise<QueuedInspectionView[]> {
    return this.inspections.queue(query);
  }

  /** One inspection: what to take, what was found, and where it stands. */
  @Get(':inspection')
  @May(...EVERYONE)
  getInspection(@Param('inspection') inspection: string): Promise<InspectionView> {
    return this.inspections.inspection(inspection);
  }

  /** Begins an inspection: the sampling plan in force now is fixed with it. */
  @Post(':inspection/begin')
  @HttpCode(200)
  @May('inspector', 'quality')
  beginInspection(
    @CurrentActor() actor: Actor,
    @Param('inspection') inspection: string,
    @Body() body: BeginInspectionDto,
  ): Promise<InspectionView> {
    return this.inspections.begin(actor, inspection, body);
  }

  /** Writes down items of the sample that were looked at; several inspectors may work on one lot. */
  @Post(':inspection/tallies')
  @May('inspector', 'quality')
  tallyItems(@CurrentActor() actor: Actor, @Param('inspection') inspection: string, @Body() body: TallyDto): Promise<InspectionView> {
    return this.inspections.tally(actor, inspection, body);
  }

  /** Takes back a tally that was entered in error; it stays readable and counts no more. */
  @Post(':inspection/tallies/:tally/taken-back')
  @HttpCode(200)
  @May('inspector', 'quality')
  takeTallyBack(
    @CurrentActor() actor: Actor,
    @Param('inspection') inspection: string,
    @Param('tally', ParseIntPipe) tally: number,
    @Body() body: TakeTallyBackDto,
  ): Promise<InspectionView> {
    return this.inspections.takeTallyBack(actor, inspection, tally, body);
  }

  /** Records a test of the lot as a whole, or a retest of it. */
  @Post(':inspection/results')
  @May('inspector', 'quality')
  recordResult(
    @CurrentActor() actor: Actor,
    @Param('inspection') inspection: string,
    @Body() body: RecordResultDto,
  ): Promise<InspectionView> {
    return this.inspections.recordResult(actor, inspection, body);
  }

  /** Closes an inspection with the verdict of its plan, or a stricter one. */
  @Post(':inspection/verdict')
  @HttpCode(200)
  @May('inspector', 'quality')
  decideInspection(
    @CurrentActor() actor: Actor,
    @Param('inspection') inspection: string,
    @Body() body: DecideInspectionDto,
  ): Promise<InspectionView> {
    return this.inspections.decide(actor, inspection, body);
  }
}
