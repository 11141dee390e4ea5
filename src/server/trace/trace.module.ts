import { Global, Module } from '@nestjs/common';
import { GenealogyIndex } from './genealogy-index.js';
import { Lineage } from './lineage.js';
import { PiecesService } from './pieces.service.js';
import { SuspectsController } from './suspects/suspects.controller.js';
import { SuspectsService } from './suspects/suspects.service.js';
import { TraceController } from './trace.controller.js';
import { TraceService } from './trace.service.js';

/** The genealogy and everything asked of it. */
@Global()
@Module({
  controllers: [TraceController, SuspectsController],
  providers: [GenealogyIndex, { provide: Lineage, useExisting: GenealogyIndex }, TraceService, PiecesService, SuspectsService],
  exports: [GenealogyIndex, Lineage, TraceService],
})
export class TraceModule {}
