import { Module } from '@nestjs/common';
import { FiguresController } from './figures.controller.js';
import { NonconformanceFiguresController } from './nonconformance.controller.js';

@Module({ controllers: [FiguresController, NonconformanceFiguresController] })
export class FiguresModule {}
