import type { Suspect } from '../../../shared/api/suspects.js';
import { localWritten } from '../app/clock.js';
import { addressOf, type Origin } from './question.js';

const LONG_AGO = '1970-01-01T00:00:00.000Z';

/** A suspect in words, with times as people here read them. */
export function suspectWords({ kind, code, item, supplier, from, until }: Suspect): string {
  if (kind === 'lot') return `lot ${code}${item === null ? '' : ` (${item})`}`;
  if (kind === 'supplier-lot') return `supplier’s lot ${code}${supplier === null ? '' : ` of ${supplier}`}`;
  if (kind !== 'vessel' && kind !== 'instrument') return `${kind} ${code}`;
  const what = kind === 'vessel' ? 'cleaning' : 'calibration';
  if (from === null && until === null) return `${kind} ${code}, no ${what} recorded`;
  if (from === null) return `${kind} ${code} until its ${what} of ${localWritten(until ?? '')}`;
  return `${kind} ${code} from its ${what} of ${localWritten(from)}${until === null ? ' on' : ` to that of ${localWritten(until)}`}`;
}

/** Where its forward trace starts; null for a person, whom no material is traced from. */
export function traceOf({ kind, code, supplier, from, until }: Suspect): string | null {
  const origin = ((): Origin | null => {
    switch (kind) {
      case 'lot':
        return { lot: code };
      case 'supplier-lot':
        return supplier === null ? { supplierLot: code } : { supplierLot: code, supplier };
      case 'run':
        return { run: code };
      case 'line':
        return { line: code };
      case 'vessel': // any moment of the stay names it; before the first cleaning that is any time before it
        return from === null && until === null ? { vessel: code } : { vessel: code, at: from ?? LONG_AGO };
      case 'instrument':
        return {
          instrument: code,
          ...(from === null && until === null ? {} : { from: from ?? LONG_AGO }),
          ...(until === null ? {} : { to: until }),
        };
      case 'person':
        return null;
    }
  })();
  return origin === null ? null : addressOf({ origin });
}
