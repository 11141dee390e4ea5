import { given } from '../design/form-values.js';
/** One of three ways to say what goes: pieces of a lot, a quantity of a lot, an item's serials. */
export type Way = 'pieces' | 'quantity' | 'serials';

/** A line as it is typed or scanned; everything is text until it is sent. */
export interface GoodsLine {
  readonly way: Way;
  readonly lot: string;
  readonly pieces: string;
  readonly quantity: string;
  readonly item: string;
  /** One a line. */
  readonly serials: string;
  readonly pickReason: string;
  /** Of a return: the shipment it went out in, where it is known. */
  readonly shipment: string;
}

export const EMPTY_GOODS: GoodsLine = {
  way: 'pieces',
  lot: '',
  pieces: '',
  quantity: '',
  item: '',
  serials: '',
  pickReason: '',
  shipment: '',
};

export const serialsIn = (text: string): string[] => text.split(/[\s,;]+/u).filter(Boolean);

/** What is sent for a line: only what belongs to the way it says what goes. */
export function goodsOf(line: GoodsLine) {
  if (line.way === 'serials') return { item: given(line.item), serials: serialsIn(line.serials) };
  const lot = given(line.lot);
  return line.way === 'pieces' ? { lot, pieces: given(line.pieces) } : { lot, quantity: given(line.quantity) };
}

/** Adds a serial to the line of its item, or begins one; a serial stands once. */
export function withSerial(lines: readonly GoodsLine[], item: string, serial: string): GoodsLine[] {
  const at = lines.findIndex((line) => line.way === 'serials' && line.item === item);
  const line = lines[at];
  if (line === undefined) return [...lines, { ...EMPTY_GOODS, way: 'serials', item, serials: serial }];
  const serials = [...new Set([...serialsIn(line.serials), serial])].join('\n');
  return lines.map((one, i) => (i === at ? { ...one, serials } : one));
}

/** Begins a line for a lot, or leaves the one that is there; a numbered lot goes by its pieces. */
export function withLot(lines: readonly GoodsLine[], lot: string, numbered: boolean): GoodsLine[] {
  if (lines.some((line) => line.lot === lot)) return [...lines];
  return [...lines, { ...EMPTY_GOODS, way: numbered ? 'pieces' : 'quantity', lot }];
}
