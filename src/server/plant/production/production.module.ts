import { Module } from '@nestjs/common';
import { ChargingService } from './charging.service.js';
import { ClosingService } from './closing.service.js';
import { LinksController } from './links.controller.js';
import { LinksService } from './links.service.js';
import { ReplacingService } from './replacing.service.js';
import { RunService } from './run.service.js';
import { RunsController } from './runs.controller.js';
import { UnitsController } from './units.controller.js';
import { VesselService } from './vessel.service.js';
import { VesselsController } from './vessels.controller.js';

@Module({
  controllers: [RunsController, VesselsController, UnitsController, LinksController],
  providers: [RunService, ChargingService, ClosingService, VesselService, ReplacingService, LinksService],
})
export class ProductionModule {}
