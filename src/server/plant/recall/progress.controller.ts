import { Body, Controller, Get, Header, HttpCode, Param, ParseIntPipe, Post, Query } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import {
  CloseRecallDto,
  EffectivenessCheckDto,
  GapDoneDto,
  LinkReportsDto,
  NoticeTextDto,
  RecallAccountDto,
  RecallAnswerDto,
  RecallGapDto,
  SendNoticeDto,
} from './progress.dto.js';
import { RecallProgress } from './progress.service.js';
import { statusCsv } from './status-csv.js';
import { RecallProgressView, RecallStatusDto } from './status.dto.js';
import { RecallStatuses } from './status.service.js';
import { SetStrategyDto } from './strategy.dto.js';

@Controller('recalls/:recall')
export class RecallProgressController {
  constructor(
    private readonly progress: RecallProgress,
    private readonly statuses: RecallStatuses,
  ) {}

  /** Sets hazard evaluation, class and strategy of a recall, signed; earlier ones stay in the record. */
  @Post('strategy')
  @HttpCode(200)
  @May('recall-lead', 'quality')
  setRecallStrategy(
    @CurrentActor() actor: Actor,
    @Param('recall') recall: string,
    @Body() body: SetStrategyDto,
  ): Promise<RecallProgressView> {
    return this.progress.setStrategy(actor, recall, body);
  }

  /** Names nonconformance reports that the recall comes from. */
  @Post('reports')
  @HttpCode(200)
  @May('recall-lead', 'quality')
  linkRecallReports(
    @CurrentActor() actor: Actor,
    @Param('recall') recall: string,
    @Body() body: LinkReportsDto,
  ): Promise<RecallProgressView> {
    return this.progress.linkReports(actor, recall, body);
  }

  /** Writes the next version of what notices say. */
  @Post('notice-texts')
  @May('recall-lead', 'quality')
  writeRecallNotice(
    @CurrentActor() actor: Actor,
    @Param('recall') recall: string,
    @Body() body: NoticeTextDto,
  ): Promise<RecallProgressView> {
    return this.progress.writeNotice(actor, recall, body);
  }

  /** Records that a notice goes out now, to a consignee or to the public; a drill sends nothing. */
  @Post('notices')
  @May('recall-lead', 'quality')
  sendRecallNotice(
    @CurrentActor() actor: Actor,
    @Param('recall') recall: string,
    @Body() body: SendNoticeDto,
  ): Promise<RecallProgressView> {
    return this.progress.sendNotice(actor, recall, body);
  }

  /** Records a consignee's reply: instructions followed, quantity on hand, who signed it. */
  @Post('answers')
  @May('recall-lead', 'quality')
  recordRecallAnswer(
    @CurrentActor() actor: Actor,
    @Param('recall') recall: string,
    @Body() body: RecallAnswerDto,
  ): Promise<RecallProgressView> {
    return this.progress.answer(actor, recall, body);
  }

  /** States all that a consignee has destroyed, corrected or sold on of a lot; never more than it was sent. */
  @Post('accounts')
  @May('recall-lead', 'quality')
  recordRecallAccount(
    @CurrentActor() actor: Actor,
    @Param('recall') recall: string,
    @Body() body: RecallAccountDto,
  ): Promise<RecallProgressView> {
    return this.progress.account(actor, recall, body);
  }

  /** Records an effectiveness check: whether a consignee got the notice and acted on it. */
  @Post('effectiveness-checks')
  @May('recall-lead', 'quality')
  recordRecallCheck(
    @CurrentActor() actor: Actor,
    @Param('recall') recall: string,
    @Body() body: EffectivenessCheckDto,
  ): Promise<RecallProgressView> {
    return this.progress.check(actor, recall, body);
  }

  /** Records what was found wanting, with an action and its owner. */
  @Post('gaps')
  @May('recall-lead', 'quality')
  recordRecallGap(@CurrentActor() actor: Actor, @Param('recall') recall: string, @Body() body: RecallGapDto): Promise<RecallProgressView> {
    return this.progress.findGap(actor, recall, body);
  }

  /** Records that a gap is closed. */
  @Post('gaps/:gap/done')
  @HttpCode(200)
  @May('recall-lead', 'quality')
  closeRecallGap(
    @CurrentActor() actor: Actor,
    @Param('recall') recall: string,
    @Param('gap', ParseIntPipe) gap: number,
    @Body() body: GapDoneDto,
  ): Promise<RecallProgressView> {
    return this.progress.closeGap(actor, recall, gap, body);
  }

  /** Signs the closing of a recall: once by a recall lead, once by quality; the second signature closes it. */
  @Post('closing')
  @HttpCode(200)
  @May('recall-lead', 'quality')
  closeRecall(@CurrentActor() actor: Actor, @Param('recall') recall: string, @Body() body: CloseRecallDto): Promise<RecallProgressView> {
    return this.progress.close(actor, recall, body);
  }

  /** The status of a recall as known at any ledger entry: notified, replied, silent, goods by consignee, checks, completion. */
  @Get('status')
  @May(...EVERYONE)
  getRecallStatus(@Param('recall') recall: string, @Query() { asKnownAt }: RecallStatusDto): Promise<RecallProgressView> {
    return this.statuses.status(recall, asKnownAt);
  }

  /** The status as CSV, one row for each consignee and lot. */
  @Get('status.csv')
  @May(...EVERYONE)
  @Header('content-type', 'text/csv; charset=utf-8')
  async getRecallStatusCsv(@Param('recall') recall: string, @Query() { asKnownAt }: RecallStatusDto): Promise<string> {
    return statusCsv(await this.statuses.status(recall, asKnownAt));
  }
}
