import { Module } from '@nestjs/common';
import { InstrumentsController } from './instruments.controller.js';
import { InstrumentsService } from './instruments.service.js';
import { JudgedService } from './judged.service.js';

@Module({ controllers: [InstrumentsController], providers: [InstrumentsService, JudgedService] })
export class InstrumentsModule {}
