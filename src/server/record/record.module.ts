import { Module } from '@nestjs/common';
import { VerificationController } from './verification.controller.js';
import { VerificationService } from './verification.service.js';

/** The record itself: checked while work goes on. */
@Module({ controllers: [VerificationController], providers: [VerificationService] })
export class RecordModule {}
