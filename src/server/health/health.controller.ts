import { Controller, Get, ServiceUnavailableException } from '@nestjs/common';
import { SkipThrottle } from '@nestjs/throttler';
import { LedgerHead } from '../ledger/ledger-entry.entity.js';
import { OpenToAll } from '../plant/people/access.js';
import { Reader } from '../platform/database/reader.js';
import { HealthView, ReadyView } from './health.dto.js';

/** For whatever watches the server. */
@SkipThrottle({ all: true })
@Controller()
export class HealthController {
  constructor(private readonly reader: Reader) {}

  /** The process runs and answers. */
  @Get('health')
  @OpenToAll()
  health(): HealthView {
    return { alive: true };
  }

  /** The database answers and the end of the ledger can be read; else 503. */
  @Get('ready')
  @OpenToAll()
  async ready(): Promise<ReadyView> {
    try {
      const head = await this.reader.manager.findOneByOrFail(LedgerHead, { id: 1 });
      return { ready: true, seq: head.seq };
    } catch (error) {
      throw new ServiceUnavailableException('the database does not answer: nothing can be read or recorded now', { cause: error });
    }
  }
}
