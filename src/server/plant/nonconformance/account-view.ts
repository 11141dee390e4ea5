import { formatQuantity } from '../../../../shared/quantity.js';
import { formatSpans } from '../../../../shared/spans.js';
import type { LotAccount } from './adds-up.decide.js';
import type { AccountView } from './report-view.dto.js';

/** How much of a lot is affected, disposed of and open, as it is shown. @param unit of the lot's item */
export const accountView = (account: LotAccount, unit: string): AccountView => ({
  lot: account.lot,
  unit,
  affected: formatQuantity(account.affectedMicro),
  disposed: formatQuantity(account.disposedMicro),
  carriedOut: formatQuantity(account.carriedOutMicro),
  open: formatQuantity(account.openMicro),
  openPieces: account.openSpans === null ? null : formatSpans(account.openSpans),
  tooMany: formatQuantity(account.tooManyMicro),
});
