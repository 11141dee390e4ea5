import { Readable } from 'node:stream';
import { Controller, Get, Header, Query, StreamableFile } from '@nestjs/common';
import { ApiOkResponse, ApiProduces } from '@nestjs/swagger';
import { May } from '../plant/people/access.js';
import { ExportQueryDto } from './export.dto.js';
import { ExportService } from './export.service.js';

const TYPE = 'application/x-ndjson';

@Controller('ledger')
export class ExportController {
  constructor(private readonly exports: ExportService) {}

  /** Entries as they are stored, one JSON value a line, with the checkpoint they are proved by: all, or those that name one record. */
  @Get('export.jsonl')
  @May('auditor', 'quality', 'administrator')
  @Header('content-disposition', 'attachment; filename="ledger.jsonl"')
  @ApiProduces(TYPE)
  @ApiOkResponse({ schema: { type: 'string' } })
  async exportEntries(@Query() query: ExportQueryDto): Promise<StreamableFile> {
    const lines = await this.exports.lines(query);
    return new StreamableFile(Readable.from(lines, { objectMode: false }), { type: TYPE });
  }
}
