import type { MigrationInterface, QueryRunner } from 'typeorm';
import { createTable } from '../../platform/database/tables.js';

export class People1764000150000 implements MigrationInterface {
  name = 'People1764000150000';

  async up(runner: QueryRunner): Promise<void> {
    await createTable(runner, 'person', {
      columns: { code: 'varchar(64)', roles: 'text', blocked: 'boolean', added_seq: 'integer' },
      primary: ['code'],
    });
    await createTable(runner, 'person_account', {
      columns: { person: 'varchar(64)', display_name: 'text?', password_hash: 'text?', password_set_at: 'varchar(24)?' },
      primary: ['person'],
    });
    await createTable(runner, 'session', {
      columns: {
        token_hash: 'varchar(64)',
        person: 'varchar(64)',
        created_at: 'varchar(24)',
        last_seen_at: 'varchar(24)',
        expires_at: 'varchar(24)',
        ends_at: 'varchar(24)',
      },
      primary: ['token_hash'],
      indexes: { ix_session_person: ['person'] },
    });
    await createTable(runner, 'api_key', {
      columns: {
        id: 'varchar(64)',
        token_hash: 'varchar(64)',
        person: 'varchar(64)',
        role: 'varchar(64)?',
        label: 'text',
        created_by: 'varchar(64)',
        created_at: 'varchar(24)',
        revoked_by: 'varchar(64)?',
        revoked_at: 'varchar(24)?',
      },
      primary: ['id'],
      uniques: { ux_api_key_token: ['token_hash'] },
    });
    await createTable(runner, 'sign_in_failure', {
      columns: { person: 'varchar(64)', failures: 'integer', last_at: 'varchar(24)', locked_until: 'varchar(24)?' },
      primary: ['person'],
    });
    await createTable(runner, 'set_up_code', {
      columns: { id: 'integer', code_hash: 'varchar(64)', made_at: 'varchar(24)' },
      primary: ['id'],
    });
  }

  down(): Promise<void> {
    throw new Error('migrations go forward only');
  }
}
