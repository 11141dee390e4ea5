import { Module } from '@nestjs/common';
import { RecallProgressController } from './progress.controller.js';
import { RecallProgress } from './progress.service.js';
import { RecallController } from './recall.controller.js';
import { RecallReports } from './recall-report.service.js';
import { RecallScopes } from './recall-scopes.service.js';
import { RecallService } from './recall.service.js';
import { RecallStatuses } from './status.service.js';

@Module({
  controllers: [RecallController, RecallProgressController],
  providers: [RecallScopes, RecallReports, RecallService, RecallStatuses, RecallProgress],
  exports: [RecallService],
})
export class RecallModule {}
