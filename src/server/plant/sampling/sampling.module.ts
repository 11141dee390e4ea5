import { Module } from '@nestjs/common';
import { SamplingController } from './sampling.controller.js';
import { SamplingService } from './sampling.service.js';

@Module({ controllers: [SamplingController], providers: [SamplingService] })
export class SamplingModule {}
