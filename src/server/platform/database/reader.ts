import { DataSource, type EntityManager } from 'typeorm';

/** The read-only connection: sees committed rows and cannot write. What every query outside a command uses. */
export class Reader {
  constructor(readonly source: DataSource) {}

  get manager(): EntityManager {
    return this.source.manager;
  }
}
