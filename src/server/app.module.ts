import { type DynamicModule, Module } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { HealthModule } from './health/health.module.js';
import { lockHead } from './ledger/append.js';
import { LedgerModule } from './ledger/ledger.module.js';
import { lastInstant } from './ledger/read.js';
import { PlantModule } from './plant/plant.module.js';
import { type Clock, MachineClock, ResumedClock } from './platform/clock.js';
import type { Config } from './platform/config.js';
import { DatabaseModule } from './platform/database/database.module.js';
import { HttpModule } from './platform/http/http.module.js';
import { RecordModule } from './record/record.module.js';
import { SCHEMA } from './schema.js';
import { TraceModule } from './trace/trace.module.js';

/** The machine's time; in the demonstration, the time its record has come to: its goods would all have expired since. */
async function clockFor({ demo }: Config, record: EntityManager): Promise<Clock> {
  const last = demo ? await lastInstant(record) : null;
  return last === null ? new MachineClock() : new ResumedClock(last);
}

@Module({})
export class AppModule {
  static with(config: Config, clock?: Clock): DynamicModule {
    return {
      module: AppModule,
      imports: [
        DatabaseModule.with({ config, schema: SCHEMA, lock: lockHead, clock: async (record) => clock ?? clockFor(config, record) }),
        LedgerModule,
        HttpModule,
        HealthModule,
        TraceModule,
        PlantModule,
        RecordModule,
      ],
    };
  }
}
