import { Module } from '@nestjs/common';
import { CatalogueService } from './catalogue.service.js';
import { BomsController, RecipesController } from './composition.controller.js';
import { DefectsController, InspectionPlansController } from './inspection-plans.controller.js';
import { InstrumentRegisterController } from './instruments.controller.js';
import { ItemsController, PartiesController } from './items.controller.js';
import { LinesController, LocationsController, VesselsController } from './places.controller.js';

@Module({
  controllers: [
    ItemsController,
    PartiesController,
    VesselsController,
    LinesController,
    LocationsController,
    RecipesController,
    BomsController,
    InstrumentRegisterController,
    InspectionPlansController,
    DefectsController,
  ],
  providers: [CatalogueService],
})
export class CatalogueModule {}
