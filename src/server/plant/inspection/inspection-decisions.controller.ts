import { Body, Controller, HttpCode, Param, Post } from '@nestjs/common';
import { type Actor, CurrentActor, May } from '../people/access.js';
import { CallOffInspectionDto, InspectionUrgencyDto, RequestInspectionDto, SkipInspectionDto } from './inspection-decisions.dto.js';
import { InspectionDecisionsService } from './inspection-decisions.service.js';
import { InspectionView } from './inspection-view.dto.js';

@Controller('inspections')
export class InspectionDecisionsController {
  constructor(private readonly decisions: InspectionDecisionsService) {}

  /** Opens an inspection on request, or presents again what was not accepted. */
  @Post()
  @May('quality')
  requestInspection(@CurrentActor() actor: Actor, @Body() body: RequestInspectionDto): Promise<InspectionView> {
    return this.decisions.request(actor, body);
  }

  /** Skips an inspection and lets its lot go on under an urgent release: a signed decision. */
  @Post(':inspection/skip')
  @HttpCode(200)
  @May('quality')
  skipInspection(
    @CurrentActor() actor: Actor,
    @Param('inspection') inspection: string,
    @Body() body: SkipInspectionDto,
  ): Promise<InspectionView> {
    return this.decisions.skip(actor, inspection, body);
  }

  /** Calls off what need not be inspected: all of it is gone for good, or it was asked for and has not begun. */
  @Post(':inspection/calling-off')
  @HttpCode(200)
  @May('quality')
  callOffInspection(
    @CurrentActor() actor: Actor,
    @Param('inspection') inspection: string,
    @Body() body: CallOffInspectionDto,
  ): Promise<InspectionView> {
    return this.decisions.callOff(actor, inspection, body);
  }

  /** Puts an inspection before older ones, and says why. */
  @Post(':inspection/urgency')
  @HttpCode(200)
  @May('clerk', 'operator', 'inspector', 'quality', 'dispatcher', 'recall-lead')
  makeInspectionUrgent(
    @CurrentActor() actor: Actor,
    @Param('inspection') inspection: string,
    @Body() body: InspectionUrgencyDto,
  ): Promise<InspectionView> {
    return this.decisions.makeUrgent(actor, inspection, body);
  }
}
