import { Module, type OnModuleInit } from '@nestjs/common';
import { ReportConsignees } from './consignees.service.js';
import { ProposalsService } from './proposals.service.js';
import { ReportController } from './report.controller.js';
import { ReportPdfController } from './report-pdf.controller.js';
import { ReportPdfs } from './report-pdf.service.js';
import { ReportService } from './report.service.js';
import { ReportViews } from './report-view.service.js';
import { checkMoves } from './states.facts.js';

@Module({
  controllers: [ReportController, ReportPdfController],
  providers: [ReportService, ReportViews, ReportConsignees, ReportPdfs, ProposalsService],
})
export class NonconformanceModule implements OnModuleInit {
  /** A table of states that does not hold together stops the server before the first report does. */
  onModuleInit(): void {
    checkMoves();
  }
}
