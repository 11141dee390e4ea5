import { Body, Controller, Get, Header, HttpCode, Param, Post, Query, StreamableFile } from '@nestjs/common';
import { PassThrough } from 'node:stream';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { OpenRecallDto, RecallHeadView, RecallScopeDto, RecallView } from './recall.dto.js';
import { consigneesCsv } from './recall-csv.js';
import { RecallReportDto, RecallVersionDto } from './recall-query.dto.js';
import { RecallService } from './recall.service.js';

@Controller('recalls')
export class RecallController {
  constructor(private readonly recalls: RecallService) {}

  /** Opens a recall or a drill from a trace; its scope is frozen at a ledger position. */
  @Post()
  @May('recall-lead', 'quality')
  openRecall(@CurrentActor() actor: Actor, @Body() body: OpenRecallDto): Promise<RecallView> {
    return this.recalls.open(actor, body);
  }

  /** Widens or narrows the scope of a recall: traced again and frozen as its next version. */
  @Post(':recall/scopes')
  @HttpCode(200)
  @May('recall-lead', 'quality')
  rescopeRecall(@CurrentActor() actor: Actor, @Param('recall') recall: string, @Body() body: RecallScopeDto): Promise<RecallView> {
    return this.recalls.rescope(actor, recall, body);
  }

  /** Every recall and drill, newest first. */
  @Get()
  @May(...EVERYONE)
  listRecalls(): Promise<RecallHeadView[]> {
    return this.recalls.recalls();
  }

  /** One recall: consignees with spans, and the reconciliation as frozen and as of now. */
  @Get(':recall')
  @May(...EVERYONE)
  getRecall(@Param('recall') recall: string, @Query() { version }: RecallVersionDto): Promise<RecallView> {
    return this.recalls.recall(recall, version);
  }

  /** The direct accounts with lots and ship dates, as CSV. */
  @Get(':recall/consignees.csv')
  @May(...EVERYONE)
  @Header('content-type', 'text/csv; charset=utf-8')
  async getRecallConsignees(@Param('recall') recall: string, @Query() { version }: RecallVersionDto): Promise<string> {
    return consigneesCsv(await this.recalls.recall(recall, version));
  }

  /** The recall report as PDF, the same years later; with `asKnownAt`, also how far the recall had come at that entry. */
  @Get(':recall/report.pdf')
  @May(...EVERYONE)
  async getRecallReport(@Param('recall') recall: string, @Query() { version, asKnownAt }: RecallReportDto): Promise<StreamableFile> {
    const out = new PassThrough({ highWaterMark: 256 * 1024 });
    // Refused before the stream is asked for, it is an answer like any other; after that the writer breaks the stream off.
    const opened = new Promise<void>((resolve, reject) => {
      const open = (): PassThrough => {
        resolve();
        return out;
      };
      this.recalls.writeReport(recall, open, version, asKnownAt).catch(reject);
    });
    await opened;
    return new StreamableFile(out, { type: 'application/pdf', disposition: 'attachment; filename="recall-report.pdf"' });
  }
}
