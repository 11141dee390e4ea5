import type { MigrationInterface, QueryRunner } from 'typeorm';

/** A list of lots can be had from any position, the newest first or what expires first. */
export class LotOrder1764001700000 implements MigrationInterface {
  name = 'LotOrder1764001700000';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query('CREATE INDEX "ix_lot_born" ON "lot" ("born_at")');
    await runner.query('CREATE INDEX "ix_lot_expires" ON "lot" ("expires_on")');
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
