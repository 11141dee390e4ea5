import { Module } from '@nestjs/common';
import { ReturnsController } from './returns.controller.js';
import { ReturnsService } from './returns.service.js';

@Module({ controllers: [ReturnsController], providers: [ReturnsService] })
export class ReturnsModule {}
