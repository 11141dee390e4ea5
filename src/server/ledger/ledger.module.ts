import { Global, Module } from '@nestjs/common';
import { Checkpoints } from './checkpoints.js';

/** What every paper and export carries: the checkpoint of the ledger it was made from. */
@Global()
@Module({ providers: [Checkpoints], exports: [Checkpoints] })
export class LedgerModule {}
