import { type DynamicModule, Module } from '@nestjs/common';
import { HealthModule } from './health/health.module.js';
import { lockHead } from './ledger/append.js';
import { PlantModule } from './plant/plant.module.js';
import type { Clock } from './platform/clock.js';
import type { Config } from './platform/config.js';
import { DatabaseModule } from './platform/database/database.module.js';
import { HttpModule } from './platform/http/http.module.js';
import { RecordModule } from './record/record.module.js';
import { SCHEMA } from './schema.js';
import { TraceModule } from './trace/trace.module.js';

@Module({})
export class AppModule {
  static with(config: Config, clock?: Clock): DynamicModule {
    return {
      module: AppModule,
      imports: [
        DatabaseModule.with({ config, schema: SCHEMA, lock: lockHead, clock }),
        HttpModule,
        HealthModule,
        TraceModule,
        PlantModule,
        RecordModule,
      ],
    };
  }
}
