import { Controller, Get, Query } from '@nestjs/common';
import { EVERYONE, May } from '../people/access.js';
import { ChartQueryDto, ChartView } from './charts.dto.js';
import { ChartsService } from './charts.service.js';

@Controller('control-charts')
export class ChartsController {
  constructor(private readonly charts: ChartsService) {}

  /** A control chart of an item, with what its rules find and, where it is measured against limits, its capability. */
  @Get()
  @May(...EVERYONE)
  controlChart(@Query() query: ChartQueryDto): Promise<ChartView> {
    return this.charts.chart(query);
  }
}
