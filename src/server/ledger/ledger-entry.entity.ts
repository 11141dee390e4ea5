import { Column, Entity, PrimaryColumn } from 'typeorm';
import { code, instant, integer, text } from '../platform/database/columns.js';

/** One entry of the ledger. `body` is the exact canonical text that was hashed; it names `prev`, so the entries form a chain. */
@Entity('ledger_entry')
export class LedgerEntry {
  @PrimaryColumn(integer('seq'))
  seq: number;

  @Column(instant('at'))
  at: string;

  @Column(code('actor'))
  actor: string;

  @Column(code('kind'))
  kind: string;

  @Column(integer('v'))
  v: number;

  @Column(text('body'))
  body: string;

  /** Lower-case hexadecimal SHA-256 of `body`. */
  @Column({ name: 'hash', type: 'varchar', length: 64 })
  hash: string;
}

/** The end of the chain. One row; updating it is the write lock of the whole plant. */
@Entity('ledger_head')
export class LedgerHead {
  @PrimaryColumn(integer('id'))
  id: number;

  @Column(integer('seq'))
  seq: number;

  @Column({ name: 'hash', type: 'varchar', length: 64 })
  hash: string;
}
