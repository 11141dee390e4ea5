import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class Import1764001000000 implements MigrationInterface {
  name = 'Import1764001000000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'import', {
      columns: { code: 'varchar(64)', at: 'varchar(24)', by: 'varchar(64)', seq: 'integer', counts: 'text' },
      primary: ['code'],
    });
    await createTable(runner, 'import_file', {
      columns: { import: 'varchar(64)', file: 'varchar(64)', rows: 'integer', sha256: 'varchar(64)' },
      primary: ['import', 'file'],
      indexes: { ix_import_file_sha256: ['sha256'] },
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
