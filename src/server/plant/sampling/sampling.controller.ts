import { Controller, Get, Query } from '@nestjs/common';
import { EVERYONE, May } from '../people/access.js';
import { OcQueryDto, OperatingCharacteristicView, PlanQueryDto, PlanView } from './sampling.dto.js';
import { SamplingService } from './sampling.service.js';

@Controller('sampling')
export class SamplingController {
  constructor(private readonly service: SamplingService) {}

  /** The sampling plan of ISO 2859-1:1999 for a lot: what to take, and when to accept. */
  @Get('plan')
  @May(...EVERYONE)
  findSamplingPlan(@Query() query: PlanQueryDto): PlanView {
    return this.service.plan(query);
  }

  /** What a single or double plan does with lots of every quality: the operating characteristic and its risk points. */
  @Get('oc')
  @May(...EVERYONE)
  drawOperatingCharacteristic(@Query() query: OcQueryDto): OperatingCharacteristicView {
    return this.service.curve(query);
  }
}
