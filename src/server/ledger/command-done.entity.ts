import { Column, Entity, PrimaryColumn } from 'typeorm';
import { code, instant, text } from '../platform/database/columns.js';

/** A command that was carried out, so that a retry of it is answered again and not done again. */
@Entity('command_done')
export class CommandDone {
  @PrimaryColumn(code('command_id'))
  commandId: string;

  @Column(code('actor'))
  actor: string;

  /** SHA-256 of the command as it was sent, so that one id cannot stand for two commands. */
  @Column({ name: 'fingerprint', type: 'varchar', length: 64 })
  fingerprint: string;

  @Column(instant('at'))
  at: string;

  /** The answer that was given, as JSON. */
  @Column(text('answer'))
  answer: string;
}
