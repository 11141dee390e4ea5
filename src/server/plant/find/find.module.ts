import { Module } from '@nestjs/common';
import { FindController } from './find.controller.js';
import { FindService } from './find.service.js';

@Module({ controllers: [FindController], providers: [FindService] })
export class FindModule {}
