import type { View } from '../wire/client.js';
import { PLACE_OF, type Kind } from '../design/refer.js';
import type { Origin } from './question.js';

export type Found = View<'FindLineView'>;

/** A thing that was found: where a trace can start, or, where it cannot, the page that leads on. */
export interface Candidate {
  readonly found: Found;
  readonly origin: Origin | null;
  /** Said instead of a way to trace it. */
  readonly instead: { readonly says: string; readonly href: string } | null;
}

/** Where a trace starts from what was found; null where material cannot be followed from it. */
function originOf({ kind, code, lot, piece, supplier }: Found): Origin | null {
  switch (kind) {
    case 'lot':
      return { lot: code };
    case 'serial': // one serial may be on units of several items: its lot and piece are on one
      return lot === null || piece === null ? { serial: code } : { lot, pieces: `${piece}` };
    case 'supplier-lot':
      return supplier === null ? { supplierLot: code } : { supplierLot: code, supplier };
    case 'delivery':
    case 'run':
    case 'return':
      return { run: code };
    case 'shipment':
      return { shipment: code };
    case 'vessel':
      return { vessel: code };
    case 'instrument':
      return { instrument: code };
    case 'inspection':
      return lot === null ? null : { lot };
    default:
      return null;
  }
}

/** The way on from what cannot be traced itself. */
function insteadOf({ kind, code, of }: Found): Candidate['instead'] {
  if (kind === 'report') return { says: 'Ask what its pieces have in common', href: `/trace/suspects?report=${encodeURIComponent(code)}` };
  if (kind === 'item' || kind === 'gtin')
    return { says: 'See its lots', href: `/lots?item=${encodeURIComponent(kind === 'gtin' ? (of ?? code) : code)}` };
  if (kind === 'location') return { says: 'See its lots', href: `/lots?location=${encodeURIComponent(code)}` };
  if (kind === 'line') return { says: 'Choose a time on it', href: `/trace?line=${encodeURIComponent(code)}` };
  const page = PLACE_OF[kind as Kind];
  return page === undefined ? null : { says: 'Open it', href: `${page}/${encodeURIComponent(code)}` };
}

/** What was found, what can be traced first, otherwise in the order of the finding. */
export function candidatesOf(found: readonly Found[]): Candidate[] {
  const all = found.map((one): Candidate => {
    const origin = originOf(one);
    return { found: one, origin, instead: origin === null ? insteadOf(one) : null };
  });
  return [...all.filter(({ origin }) => origin !== null), ...all.filter(({ origin }) => origin === null)];
}

/** The one thing that was surely meant: the only one of that very code that can be traced. */
export function onlyOne(candidates: readonly Candidate[]): Origin | null {
  const exact = candidates.filter(({ origin, found }) => origin !== null && found.exact);
  return exact.length === 1 ? (exact[0]?.origin ?? null) : null;
}
