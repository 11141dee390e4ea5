import { Module } from '@nestjs/common';
import { StockDocumentsController } from './documents.controller.js';
import { StockDocumentsService } from './documents.service.js';

@Module({ controllers: [StockDocumentsController], providers: [StockDocumentsService] })
export class StockModule {}
