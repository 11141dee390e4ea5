import { Body, Controller, Get, HttpCode, Param, Post, Query } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { ProposalsService } from './proposals.service.js';
import { ProposalView } from './proposals.dto.js';
import {
  ConsigneeAnswerDto,
  ContainReportDto,
  DecideReportDto,
  JudgePartDto,
  RaiseReportDto,
  ReportQueryDto,
  ReviewReportDto,
  TellConsigneeDto,
} from './report.dto.js';
import { ReportService } from './report.service.js';
import { ReportLineView, ReportView } from './report-view.dto.js';

@Controller('reports')
export class ReportController {
  constructor(
    private readonly reports: ReportService,
    private readonly proposals: ProposalsService,
  ) {}

  /** Raises a nonconformance report, from scratch, from an inspection or from a trace. */
  @Post()
  @May('clerk', 'operator', 'inspector', 'quality', 'dispatcher', 'recall-lead', 'administrator')
  raiseReport(@CurrentActor() actor: Actor, @Body() body: RaiseReportDto): Promise<ReportView> {
    return this.reports.raise(actor, body);
  }

  /** Reports, open ones first: the graver, then the older. */
  @Get()
  @May(...EVERYONE)
  listReports(@Query() query: ReportQueryDto): Promise<ReportLineView[]> {
    return this.reports.list(query);
  }

  /** One report: what was found, what is affected and held, and how its dispositions stand. */
  @Get(':report')
  @May(...EVERYONE)
  getReport(@Param('report') report: string): Promise<ReportView> {
    return this.reports.report(report);
  }

  /** What else the genealogy says may be affected, and how it was judged. */
  @Get(':report/proposals')
  @May(...EVERYONE)
  proposeAffected(@Param('report') report: string): Promise<ProposalView[]> {
    return this.proposals.proposals(report);
  }

  /** Judges a part in or out, with a reason. */
  @Post(':report/parts')
  @May('quality', 'inspector')
  judgePart(@CurrentActor() actor: Actor, @Param('report') report: string, @Body() body: JudgePartDto): Promise<ReportView> {
    return this.reports.judge(actor, report, body);
  }

  /** Contains a report: holds on everything affected and what was made from it, a signed decision. */
  @Post(':report/containment')
  @HttpCode(200)
  @May('quality')
  containReport(@CurrentActor() actor: Actor, @Param('report') report: string, @Body() body: ContainReportDto): Promise<ReportView> {
    return this.reports.contain(actor, report, body);
  }

  /** Reviews a contained report: whether the cause is investigated and the party responsible told, a signed decision. */
  @Post(':report/review')
  @HttpCode(200)
  @May('quality')
  reviewReport(@CurrentActor() actor: Actor, @Param('report') report: string, @Body() body: ReviewReportDto): Promise<ReportView> {
    return this.reports.review(actor, report, body);
  }

  /** Records that a consignee was told. */
  @Post(':report/consignees/told')
  @May('quality', 'recall-lead', 'dispatcher')
  tellConsignee(@CurrentActor() actor: Actor, @Param('report') report: string, @Body() body: TellConsigneeDto): Promise<ReportView> {
    return this.reports.tell(actor, report, body);
  }

  /** Records what a consignee answered. */
  @Post(':report/consignees/answers')
  @May('quality', 'recall-lead', 'dispatcher')
  answerConsignee(@CurrentActor() actor: Actor, @Param('report') report: string, @Body() body: ConsigneeAnswerDto): Promise<ReportView> {
    return this.reports.answer(actor, report, body);
  }

  /** Withdraws a report that was none, and lifts its holds: a signed decision. */
  @Post(':report/withdrawal')
  @HttpCode(200)
  @May('quality')
  withdrawReport(@CurrentActor() actor: Actor, @Param('report') report: string, @Body() body: DecideReportDto): Promise<ReportView> {
    return this.reports.withdraw(actor, report, body);
  }

  /** Opens a closed report again: a signed decision. */
  @Post(':report/reopening')
  @HttpCode(200)
  @May('quality')
  reopenReport(@CurrentActor() actor: Actor, @Param('report') report: string, @Body() body: DecideReportDto): Promise<ReportView> {
    return this.reports.reopen(actor, report, body);
  }
}
