import type { Fault } from '../ledger/chain.js';

/** A backup that cannot be believed: cut, damaged or changed. */
export class BackupFault extends Error {
  override name = 'BackupFault';
  constructor(readonly fault: Fault) {
    super(`${fault.where}: ${fault.detail}`);
  }
}

export const broken = (where: string, detail: string): BackupFault => new BackupFault({ what: 'backup-broken', where, detail });
