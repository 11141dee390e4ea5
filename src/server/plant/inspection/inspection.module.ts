import { Module } from '@nestjs/common';
import { InspectionDecisionsController } from './inspection-decisions.controller.js';
import { InspectionDecisionsService } from './inspection-decisions.service.js';
import { InspectionController } from './inspection.controller.js';
import { InspectionService } from './inspection.service.js';
import { PlanPreviewController } from './plan-preview.controller.js';
import { PlanPreviewService } from './plan-preview.service.js';
import { SwitchingController } from './switching.controller.js';
import { SwitchingService } from './switching.service.js';

@Module({
  controllers: [InspectionController, InspectionDecisionsController, SwitchingController, PlanPreviewController],
  providers: [InspectionService, InspectionDecisionsService, SwitchingService, PlanPreviewService],
})
export class InspectionModule {}
