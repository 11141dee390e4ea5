import { Controller, Get, Inject, Param, StreamableFile } from '@nestjs/common';
import { PassThrough } from 'node:stream';
import { certificateSheet } from '../../documents/certificate.model.js';
import { writeSheetPdf } from '../../documents/pdf/write-sheet.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { Reader } from '../../platform/database/reader.js';
import { Lineage } from '../../trace/lineage.js';
import { EVERYONE, May } from '../people/access.js';
import { certificateOf } from './certificate.query.js';

@Controller('lots/:lot')
export class CertificatesController {
  constructor(
    private readonly reader: Reader,
    private readonly lineage: Lineage,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  /** The certificate of analysis of a released lot as PDF, as it stood when the lot was released. */
  @Get('certificate.pdf')
  @May(...EVERYONE)
  async getCertificate(@Param('lot') lot: string): Promise<StreamableFile> {
    const sheet = certificateSheet(await certificateOf(this.reader.manager, this.lineage, lot, this.config.plantName));
    const out = new PassThrough();
    writeSheetPdf(sheet, out).catch((error: Error) => out.destroy(error));
    return new StreamableFile(out, { type: 'application/pdf', disposition: 'attachment; filename="certificate.pdf"' });
  }
}
