import { Module } from '@nestjs/common';
import { CheckpointController } from './checkpoint.controller.js';
import { CheckpointService } from './checkpoint.service.js';
import { ExportController } from './export.controller.js';
import { ExportService } from './export.service.js';
import { VerificationController } from './verification.controller.js';
import { VerificationService } from './verification.service.js';

/** The record itself: checked while work goes on, signed as far as it goes, given out. */
@Module({
  controllers: [CheckpointController, ExportController, VerificationController],
  providers: [CheckpointService, ExportService, VerificationService],
})
export class RecordModule {}
