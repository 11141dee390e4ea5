import type { MigrationInterface, QueryRunner } from 'typeorm';

/** Deliveries can be put right by a later entry. */
export class DeliveryReversal1764001100000 implements MigrationInterface {
  name = 'DeliveryReversal1764001100000';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query('ALTER TABLE "delivery" ADD COLUMN "reversed_seq" integer');
    await runner.query('ALTER TABLE "delivery" ADD COLUMN "reverse_reason" text');
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
