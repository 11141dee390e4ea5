import { Global, Module } from '@nestjs/common';
import { Checkpoints } from './checkpoints.js';

/** The checkpoint of the ledger, for whoever asks and for every export. */
@Global()
@Module({ providers: [Checkpoints], exports: [Checkpoints] })
export class LedgerModule {}
