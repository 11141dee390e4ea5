import { Module } from '@nestjs/common';
import { APP_FILTER, APP_GUARD } from '@nestjs/core';
import { ThrottlerModule } from '@nestjs/throttler';
import { CONFIG } from '../config.js';
import { LimitGuard, limits } from './limits.js';
import { ProblemFilter } from './problems.js';

/** What every request meets first: the limit on how many, and the one filter that writes errors. */
@Module({
  imports: [ThrottlerModule.forRootAsync({ inject: [CONFIG], useFactory: limits })],
  providers: [
    { provide: APP_GUARD, useClass: LimitGuard },
    { provide: APP_FILTER, useClass: ProblemFilter },
  ],
})
export class HttpModule {}
