import { Global, Module } from '@nestjs/common';
import { CatalogueModule } from './catalogue/catalogue.module.js';
import { CertificatesModule } from './certificates/certificates.module.js';
import { ChartsModule } from './charts/charts.module.js';
import { Commands } from './commands.js';
import { DispatchModule } from './dispatch/dispatch.module.js';
import { FiguresModule } from './figures/figures.module.js';
import { FilesModule } from './files/files.module.js';
import { FindModule } from './find/find.module.js';
import { HoldsModule } from './holds/holds.module.js';
import { ImportModule } from './import/import.module.js';
import { InspectionModule } from './inspection/inspection.module.js';
import { NonconformanceModule } from './nonconformance/nonconformance.module.js';
import { InstrumentsModule } from './instruments/instruments.module.js';
import { LabelsModule } from './labels/labels.module.js';
import { LotsModule } from './lots/lots.module.js';
import { PeopleModule } from './people/people.module.js';
import { ProductionModule } from './production/production.module.js';
import { RecallModule } from './recall/recall.module.js';
import { ReceivingModule } from './receiving/receiving.module.js';
import { ReleaseModule } from './release/release.module.js';
import { ReturnsModule } from './returns/returns.module.js';
import { SamplingModule } from './sampling/sampling.module.js';
import { StockModule } from './stock/stock.module.js';
import { TellingModule } from './telling/telling.module.js';
import { TodayModule } from './today/today.module.js';

/** Everything that happens in the plant. */
@Global()
@Module({
  imports: [
    PeopleModule,
    CatalogueModule,
    ImportModule,
    ReceivingModule,
    ProductionModule,
    ReleaseModule,
    HoldsModule,
    DispatchModule,
    ReturnsModule,
    RecallModule,
    SamplingModule,
    InspectionModule,
    InstrumentsModule,
    NonconformanceModule,
    FiguresModule,
    ChartsModule,
    CertificatesModule,
    StockModule,
    LotsModule,
    LabelsModule,
    FilesModule,
    FindModule,
    TellingModule,
    TodayModule,
  ],
  providers: [Commands],
  exports: [Commands],
})
export class PlantModule {}
