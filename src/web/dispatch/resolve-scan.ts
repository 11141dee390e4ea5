import type { Scan } from '../../../shared/scan/scan.js';
import { api } from '../wire/client.js';
import { type GoodsLine, withLot, withSerial } from './goods.js';

/** What a scan turned out to be, and the lines with it. */
interface Resolved {
  readonly does: string;
  readonly lines: readonly GoodsLine[] | null;
  /** A customer's or a location's own code. */
  readonly party: string | null;
  readonly location: string | null;
}

const nothing = (does: string): Resolved => ({ does, lines: null, party: null, location: null });

function askedOf(scan: Scan): { text?: string; gtin?: string; lot?: string; serial?: string } | null {
  if (scan.kind === 'faulty') return null;
  if (scan.kind === 'plain') return { text: scan.text };
  const asked = { gtin: scan.gtin ?? undefined, lot: scan.lot ?? undefined, serial: scan.serial ?? undefined };
  return scan.gtin === null ? { text: scan.serial ?? scan.lot ?? scan.text } : asked;
}

/**
 * Asks the record what was scanned: a lot, a unit by its serial, a customer, a location. Without a connection a plain code is taken for
 * the lot it may be, for the server to judge when it is sent.
 */
export async function resolveScan(scan: Scan, lines: readonly GoodsLine[]): Promise<Resolved> {
  const asked = askedOf(scan);
  if (asked === null) return nothing('Nothing: the label is wrong');
  const { data } = await api.GET('/api/find', { params: { query: asked } }).catch(() => ({ data: undefined }));
  const typed = asked.text ?? asked.lot ?? asked.serial ?? '';
  if (data === undefined) return { ...nothing(`Lot ${typed}, not looked up: no connection`), lines: withLot(lines, typed, true) };
  const found = data.found.find(({ exact }) => exact);
  if (found === undefined) return nothing(`Nothing: the record knows no ${typed}`);
  if (found.kind === 'serial' && found.lot !== null) {
    const { data: units } = await api.GET('/api/serials/{serial}', { params: { path: { serial: found.code } } });
    const item = units?.find(({ lot }) => lot === found.lot)?.item ?? '';
    return { ...nothing(`Serial ${found.code} of ${item}: ${found.says}`), lines: withSerial(lines, item, found.code) };
  }
  if (found.lots !== undefined && found.lots.length > 1)
    return nothing(`Nothing: ${found.code} is on several lots here, ${found.lots.join(', ')}: scan our own label, or type which`);
  if (found.lot !== null) {
    const { data: lot } = await api.GET('/api/lots/{lot}', { params: { path: { lot: found.lot } } });
    return { ...nothing(`Lot ${found.lot}: ${found.says}`), lines: withLot(lines, found.lot, lot?.pieces !== null) };
  }
  if (found.kind === 'party') return { ...nothing(`Customer ${found.code}: ${found.says}`), party: found.code };
  if (found.kind === 'location') return { ...nothing(`Location ${found.code}: ${found.says}`), location: found.code };
  return nothing(`Nothing: ${found.code} is a ${found.kind}, and does not go out`);
}
