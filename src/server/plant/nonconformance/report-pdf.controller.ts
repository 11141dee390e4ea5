import { Controller, Get, Param, Query, StreamableFile } from '@nestjs/common';
import { PassThrough } from 'node:stream';
import { writeSheetPdf } from '../../documents/pdf/write-sheet.js';
import { EVERYONE, May } from '../people/access.js';
import { ReportPdfQueryDto } from './report-pdf.dto.js';
import { ReportPdfs } from './report-pdf.service.js';

@Controller('reports')
export class ReportPdfController {
  constructor(private readonly reports: ReportPdfs) {}

  /** A nonconformance report as PDF, with photographs, signatures and timeline, the same years later. */
  @Get(':report/report.pdf')
  @May(...EVERYONE)
  async getReportPdf(@Param('report') report: string, @Query() { asKnownAt }: ReportPdfQueryDto): Promise<StreamableFile> {
    const sheet = await this.reports.sheet(report, asKnownAt);
    const out = new PassThrough({ highWaterMark: 256 * 1024 });
    writeSheetPdf(sheet, out).catch((error: Error) => out.destroy(error));
    return new StreamableFile(out, { type: 'application/pdf', disposition: 'attachment; filename="nonconformance-report.pdf"' });
  }
}
