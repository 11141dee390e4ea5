import { Controller, Get, Param, Query } from '@nestjs/common';
import { EVERYONE, May } from '../people/access.js';
import { PlanPreviewQueryDto, PlanPreviewView } from './plan-preview.dto.js';
import { PlanPreviewService } from './plan-preview.service.js';

@Controller('inspection-plans')
export class PlanPreviewController {
  constructor(private readonly previews: PlanPreviewService) {}

  /** What the plan of an item would take from a lot of this size under normal inspection, and how it would judge. */
  @Get(':item/preview')
  @May(...EVERYONE)
  previewInspectionPlan(@Param('item') item: string, @Query() query: PlanPreviewQueryDto): Promise<PlanPreviewView> {
    return this.previews.preview(item, query.lotSize);
  }
}
