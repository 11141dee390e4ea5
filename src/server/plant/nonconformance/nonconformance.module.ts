import { Module, type OnModuleInit } from '@nestjs/common';
import { CarryOutService } from './carry-out.service.js';
import { ReportConsignees } from './consignees.service.js';
import { DispositionService } from './disposition.service.js';
import { DispositionsController } from './dispositions.controller.js';
import { LearningController } from './learning.controller.js';
import { LearningService } from './learning.service.js';
import { ProposalsService } from './proposals.service.js';
import { ReportController } from './report.controller.js';
import { ReportPdfController } from './report-pdf.controller.js';
import { ReportPdfs } from './report-pdf.service.js';
import { ReportService } from './report.service.js';
import { ReportViews } from './report-view.service.js';
import { checkMoves } from './states.facts.js';

@Module({
  controllers: [ReportController, DispositionsController, LearningController, ReportPdfController],
  providers: [
    ReportService,
    ReportViews,
    ReportConsignees,
    ReportPdfs,
    ProposalsService,
    DispositionService,
    CarryOutService,
    LearningService,
  ],
})
export class NonconformanceModule implements OnModuleInit {
  /** A table of states that does not hold together stops the server before the first report does. */
  onModuleInit(): void {
    checkMoves();
  }
}
