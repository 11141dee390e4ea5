import { type DynamicModule, Global, Inject, Module, type OnApplicationShutdown } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { Clock } from '../clock.js';
import { CONFIG, type Config } from '../config.js';
import { openReader, openWriter, type Schema } from './data-source.js';
import { CommandGate } from './gate.js';
import { Reader } from './reader.js';

interface DatabaseOptions {
  readonly config: Config;
  readonly schema: Schema;
  /** Takes the write lock; the ledger says how. */
  readonly lock: (tx: EntityManager) => Promise<unknown>;
  /** The time that entries carry; a clock that goes on from the record has to read it first. */
  readonly clock: (record: EntityManager) => Promise<Clock>;
}

const WRITER = Symbol('writer');

/** Configuration, clock, the gate for commands and the reader for queries: what every feature is given. */
@Global()
@Module({})
export class DatabaseModule implements OnApplicationShutdown {
  constructor(
    @Inject(CommandGate) private readonly gate: CommandGate,
    @Inject(Reader) private readonly reader: Reader,
    @Inject(WRITER) private readonly writer: Awaited<ReturnType<typeof openWriter>>,
  ) {}

  static with({ config, schema, lock, clock }: DatabaseOptions): DynamicModule {
    return {
      module: DatabaseModule,
      providers: [
        { provide: CONFIG, useValue: config },
        { provide: Clock, useFactory: (reader: Reader) => clock(reader.manager), inject: [Reader] },
        { provide: WRITER, useFactory: () => openWriter(config, schema) },
        {
          provide: CommandGate,
          useFactory: (writer: Awaited<ReturnType<typeof openWriter>>) => new CommandGate(writer, lock),
          inject: [WRITER],
        },
        // The writer comes first: it makes the file and its tables.
        { provide: Reader, useFactory: async () => new Reader(await openReader(config, schema)), inject: [WRITER] },
      ],
      exports: [CONFIG, Clock, CommandGate, Reader],
    };
  }

  /** Commands under way are finished before the connections close. */
  async onApplicationShutdown(): Promise<void> {
    await this.gate.idle();
    await this.reader.source.destroy();
    await this.writer.destroy();
  }
}
