import { Module } from '@nestjs/common';
import { TellingController } from './telling.controller.js';
import { TellingService } from './telling.service.js';

@Module({ controllers: [TellingController], providers: [TellingService] })
export class TellingModule {}
