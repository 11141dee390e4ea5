import { Body, Controller, Get, HttpCode, Param, ParseIntPipe, Post } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import {
  ActionDoneDto,
  AnalyseCauseDto,
  CheckEffectivenessDto,
  PlanActionDto,
  PlanEffectivenessDto,
  RecordCostDto,
} from './learning.dto.js';
import { LearningView } from './learning-view.dto.js';
import { LearningService } from './learning.service.js';

@Controller('reports/:report')
export class LearningController {
  constructor(private readonly learning: LearningService) {}

  /** What a report taught the plant: cause, actions, whether they worked, costs, and reports like it. */
  @Get('learning')
  @May(...EVERYONE)
  getLearning(@Param('report') report: string): Promise<LearningView> {
    return this.learning.learning(report);
  }

  /** Records the analysis of the cause, why by why. */
  @Post('cause')
  @May('quality', 'inspector')
  analyseCause(@CurrentActor() actor: Actor, @Param('report') report: string, @Body() body: AnalyseCauseDto): Promise<LearningView> {
    return this.learning.analyse(actor, report, body);
  }

  /** Plans a correction, a corrective or a preventive action, with its owner and due date. */
  @Post('actions')
  @May('quality', 'inspector')
  planAction(@CurrentActor() actor: Actor, @Param('report') report: string, @Body() body: PlanActionDto): Promise<LearningView> {
    return this.learning.plan(actor, report, body);
  }

  /** Records, by its owner or by quality, that an action is done, with the evidence. */
  @Post('actions/:action/done')
  @HttpCode(200)
  @May('clerk', 'operator', 'inspector', 'quality', 'dispatcher', 'recall-lead', 'administrator')
  finishAction(
    @CurrentActor() actor: Actor,
    @Param('report') report: string,
    @Param('action', ParseIntPipe) action: number,
    @Body() body: ActionDoneDto,
  ): Promise<LearningView> {
    return this.learning.done(actor, report, action, body);
  }

  /** Sets the criterion and the day of the check whether the corrective action works. */
  @Post('effectiveness')
  @May('quality')
  planEffectiveness(
    @CurrentActor() actor: Actor,
    @Param('report') report: string,
    @Body() body: PlanEffectivenessDto,
  ): Promise<LearningView> {
    return this.learning.planCheck(actor, report, body);
  }

  /** Checks whether the corrective action works and did no harm: a signed decision, which closes a verified report when it does. */
  @Post('effectiveness/check')
  @HttpCode(200)
  @May('quality')
  checkEffectiveness(
    @CurrentActor() actor: Actor,
    @Param('report') report: string,
    @Body() body: CheckEffectivenessDto,
  ): Promise<LearningView> {
    return this.learning.check(actor, report, body);
  }

  /** Records a cost of a disposition, or of the report as a whole, in whole minor units of the plant's currency. */
  @Post('costs')
  @May('quality', 'inspector', 'administrator')
  recordCost(@CurrentActor() actor: Actor, @Param('report') report: string, @Body() body: RecordCostDto): Promise<LearningView> {
    return this.learning.cost(actor, report, body);
  }
}
