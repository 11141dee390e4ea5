import { Module } from '@nestjs/common';
import { RecallController } from './recall.controller.js';
import { RecallReports } from './recall-report.service.js';
import { RecallScopes } from './recall-scopes.service.js';
import { RecallService } from './recall.service.js';

@Module({ controllers: [RecallController], providers: [RecallScopes, RecallReports, RecallService], exports: [RecallService] })
export class RecallModule {}
