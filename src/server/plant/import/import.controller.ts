import { Controller, Get, HttpCode, Post, Query, Req } from '@nestjs/common';
import { ApiBody, ApiConsumes } from '@nestjs/swagger';
import type { UploadRequest } from '../../platform/http/multipart.js';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { FaultyFiles } from './faults.js';
import { ImportQueryDto, ImportReportView, ImportView } from './import.dto.js';
import { IMPORT_FILES } from './import.files.js';
import { ImportService } from './import.service.js';
import { withUploadedFolder } from './upload.js';

@Controller('imports')
export class ImportController {
  constructor(private readonly importing: ImportService) {}

  /** Brings older records over from CSV files: all of them or, when anything is wrong, nothing. */
  @Post()
  @HttpCode(200)
  @May('administrator')
  @ApiConsumes('multipart/form-data')
  @ApiBody({
    schema: { type: 'object', properties: Object.fromEntries(IMPORT_FILES.map((file) => [file, { type: 'string', format: 'binary' }])) },
  })
  async bringOver(@CurrentActor() actor: Actor, @Req() request: unknown, @Query() query: ImportQueryDto): Promise<ImportReportView> {
    const report = await withUploadedFolder(request as UploadRequest, (dir) =>
      this.importing.importFolder(dir, { actor, dryRun: query.dryRun === 'true', commandId: query.commandId }),
    );
    if (!report.ok) throw new FaultyFiles(report.faults, report.faultCount);
    return report as ImportReportView;
  }

  /** Every import, newest first. */
  @Get()
  @May(...EVERYONE)
  listImports(): Promise<ImportView[]> {
    return this.importing.imports();
  }
}
