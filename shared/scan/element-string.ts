import { isValidGtin } from '../gs1/check-digit.js';
import { writeGs1Date } from '../gs1/gs1-date.js';
import { writeMeasure } from '../gs1/measure.js';
import { Gs1WriteFault, writeElementString } from '../gs1/write-element-string.js';
import { writeOwn } from './own-label.js';
import type { ScannedQuantity } from './scan.js';

/** What is to be encoded. Without a GTIN, item, lot and serial are written as this plant's own elements. */
export interface Labelled {
  /** 8, 12, 13 or 14 digits. */
  readonly gtin?: string | null;
  /** The plant's own item code, for a label without a GTIN. */
  readonly item?: string | null;
  readonly lot?: string | null;
  readonly serial?: string | null;
  readonly expiresOn?: string | null;
  readonly madeOn?: string | null;
  readonly bestBeforeOn?: string | null;
  readonly quantity?: ScannedQuantity | null;
  /** With it, GTIN and count are those of what the pallet holds. */
  readonly sscc?: string | null;
}

interface Part {
  readonly ai: string;
  readonly value: string;
}

const refuse = (code: string, detail: string): never => {
  throw new Gs1WriteFault([{ code, detail, at: 0 }]);
};

/**
 * The elements of a label, those of fixed length first.
 * @throws Gs1WriteFault when something cannot be said in GS1 elements
 */
export function elementsOf(label: Labelled, today: string): Part[] {
  const { gtin = null, sscc = null } = label;
  if (gtin !== null && !isValidGtin(gtin)) refuse('not-a-gtin', `'${gtin}' is no GTIN`);
  const parts: Part[] = [];
  if (sscc !== null) parts.push({ ai: '00', value: sscc });
  if (gtin !== null) parts.push({ ai: sscc === null ? '01' : '02', value: gtin.padStart(14, '0') });
  parts.push(...dates(label, today));
  if (label.quantity) parts.push(quantityPart(label.quantity, sscc !== null));
  parts.push(...names(label));
  return parts;
}

/**
 * Writes a label as a GS1 element string, without the FNC1 that marks it: `readScan(']d2' + …)` gives back what went in.
 * @param today YYYY-MM-DD, from which two-digit years are counted when the label is read
 * @throws Gs1WriteFault when something cannot be said in GS1 elements
 */
export function elementString(label: Labelled, today: string): string {
  return writeElementString(elementsOf(label, today), Number(today.slice(0, 4)));
}

function dates({ madeOn, bestBeforeOn, expiresOn }: Labelled, today: string): Part[] {
  const given = { '11': madeOn, '15': bestBeforeOn, '17': expiresOn };
  return Object.entries(given).flatMap(([ai, date]) => {
    if (date === null || date === undefined) return [];
    const value = writeGs1Date(date, Number(today.slice(0, 4)));
    return value === null
      ? refuse('no-such-date', `${date} cannot be told from another century by two digits of its year`)
      : [{ ai, value }];
  });
}

function quantityPart({ value, unit }: ScannedQuantity, contained: boolean): Part {
  if (unit === 'each') return { ai: contained ? '37' : '30', value };
  const part = writeMeasure({ kg: '310', L: '315', m: '311' }[unit], value);
  return part ?? refuse('value-too-long', `${value} ${unit} has more digits than a label can state: six, of which five may be decimals`);
}

function names({ gtin, sscc, item, lot, serial }: Labelled): Part[] {
  if (gtin || sscc) {
    const parts: Part[] = [];
    if (lot) parts.push({ ai: '10', value: lot });
    if (serial) parts.push({ ai: '21', value: serial });
    return item ? [...parts, writeOwn('item', item)] : parts;
  }
  const own = Object.entries({ lot, item, serial } as const);
  return own.flatMap(([name, code]) => (code ? [writeOwn(name as 'lot' | 'item' | 'serial', code)] : []));
}
