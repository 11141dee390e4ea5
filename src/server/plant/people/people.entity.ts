import { Column, Entity, Index, PrimaryColumn } from 'typeorm';
import { code, flag, instant, integer, text } from '../../platform/database/columns.js';

/** A person as the ledger knows them: code and roles. Made again by a rebuild. */
@Entity('person')
export class Person {
  @PrimaryColumn(code('code'))
  person: string;

  /** Role names as JSON, in the order of ROLES. */
  @Column(text('roles'))
  roles: string;

  @Column(flag('blocked'))
  blocked: boolean;

  @Column(integer('added_seq'))
  addedSeq: number;
}

/** What a person is called and signs in with. Beside the ledger: a name can be erased without breaking the chain. */
@Entity('person_account')
export class PersonAccount {
  @PrimaryColumn(code('person'))
  person: string;

  @Column(text('display_name', { nullable: true }))
  displayName: string | null;

  /** `scrypt$N$salt$hash`; null for a person who only uses keys. */
  @Column(text('password_hash', { nullable: true }))
  passwordHash: string | null;

  @Column(instant('password_set_at', { nullable: true }))
  passwordSetAt: string | null;
}

@Entity('session')
@Index('ix_session_person', ['person'])
export class Session {
  /** SHA-256 of the token in the cookie; the token itself is nowhere. */
  @PrimaryColumn({ name: 'token_hash', type: 'varchar', length: 64 })
  tokenHash: string;

  @Column(code('person'))
  person: string;

  @Column(instant('created_at'))
  createdAt: string;

  @Column(instant('last_seen_at'))
  lastSeenAt: string;

  /** When it ends unless it is used again. */
  @Column(instant('expires_at'))
  expiresAt: string;

  /** When it ends in any case. */
  @Column(instant('ends_at'))
  endsAt: string;
}

/** A key for programs. It acts as its person, in all their roles or in one of them. */
@Entity('api_key')
@Index('ux_api_key_token', ['tokenHash'], { unique: true })
export class ApiKey {
  @PrimaryColumn(code('id'))
  id: string;

  @Column({ name: 'token_hash', type: 'varchar', length: 64 })
  tokenHash: string;

  @Column(code('person'))
  person: string;

  @Column(code('role', { nullable: true }))
  role: string | null;

  @Column(text('label'))
  label: string;

  @Column(code('created_by'))
  createdBy: string;

  @Column(instant('created_at'))
  createdAt: string;

  @Column(code('revoked_by', { nullable: true }))
  revokedBy: string | null;

  @Column(instant('revoked_at', { nullable: true }))
  revokedAt: string | null;
}

/** Wrong passwords given for a code, whether or not it is anyone's: an unknown code locks as a known one does. */
@Entity('sign_in_failure')
export class SignInFailure {
  @PrimaryColumn(code('person'))
  person: string;

  @Column(integer('failures'))
  failures: number;

  @Column(instant('last_at'))
  lastAt: string;

  @Column(instant('locked_until', { nullable: true }))
  lockedUntil: string | null;
}

/** The one-time code that makes the first administrator. At most one row. */
@Entity('set_up_code')
export class SetUpCode {
  @PrimaryColumn(integer('id'))
  id: number;

  @Column({ name: 'code_hash', type: 'varchar', length: 64 })
  codeHash: string;

  @Column(instant('made_at'))
  madeAt: string;
}
