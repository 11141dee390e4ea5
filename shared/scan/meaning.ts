import { applicationIdentifier } from '../gs1/application-identifiers.js';
import { readGs1Date } from '../gs1/gs1-date.js';
import { readMeasure } from '../gs1/measure.js';
import type { Gs1Element } from '../gs1/reading.js';
import { capital } from '../written.js';
import { readOwn } from './own-label.js';
import type { Gs1Scan, OtherElement, ScannedQuantity } from './scan.js';

type Understood = Omit<Gs1Scan, 'kind' | 'form' | 'text' | 'cautions' | 'quantity'>;
type Mutable = { -readonly [Name in keyof Understood]: Understood[Name] } & {
  quantities: ScannedQuantity[];
  other: OtherElement[];
  says: string[];
};
type Tell = (scan: Mutable, value: string, thisYear: number) => string;

const NET_UNITS: ReadonlyMap<string, ScannedQuantity['unit']> = new Map([
  ['310', 'kg'],
  ['311', 'm'],
  ['315', 'L'],
]);

const dateOf = (value: string, thisYear: number): string => readGs1Date(value.slice(0, 6), thisYear) ?? value;
const hourOf = (value: string): string =>
  value
    .slice(6)
    .replaceAll(/\d\d(?=\d)/g, '$&:')
    .replace(/^(?=.)/, ' ');

const date =
  (member: 'expiresOn' | 'madeOn' | 'bestBeforeOn', words: string): Tell =>
  (scan, value, thisYear) => {
    // A date alone counts, wherever it stands; one with an hour only where there is none alone.
    if (value.length === 6 || scan[member] === null) scan[member] = dateOf(value, thisYear);
    const monthOnly = value.length === 6 && value.endsWith('00') ? ', the end of the month given' : '';
    return `${words} ${dateOf(value, thisYear)}${value.length > 6 ? hourOf(value) : ''}${monthOnly}`;
  };

const count: Tell = (scan, value) => {
  const digits = value.replace(/^0+(?=\d)/, '');
  scan.quantities.push({ value: digits, unit: 'each' });
  return `Count: ${digits}`;
};

/** The elements that have a place of their own in a scan. */
const PLACES: Readonly<Record<string, Tell>> = {
  '00': (scan, value) => `Pallet or case (SSCC) ${(scan.sscc = value)}`,
  '01': (scan, value) => `Item with GTIN ${(scan.gtin = value)}`,
  '02': (scan, value) => `Holds items with GTIN ${(scan.gtin = value)}`,
  '10': (scan, value) => `Lot ${(scan.lot = value)}`,
  '21': (scan, value) => `Serial number ${(scan.serial = value)}`,
  '11': date('madeOn', 'Made on'),
  '8008': date('madeOn', 'Made on'),
  '15': date('bestBeforeOn', 'Best before'),
  '17': date('expiresOn', 'Use by'),
  '7003': date('expiresOn', 'Use by'),
  '30': count,
  '37': count,
};

/** Elements whose value is a day, so that it is shown as one. */
const DAYS: ReadonlySet<string> = new Set(['12', '13', '16', '4324', '4325', '4326', '7006', '7011']);

/**
 * What elements without faults mean.
 * @param thisYear the year from which two-digit years are counted
 */
export function meaningOf(elements: readonly Gs1Element[], thisYear: number): Understood {
  const scan: Mutable = {
    gtin: null,
    lot: null,
    serial: null,
    item: null,
    expiresOn: null,
    madeOn: null,
    bestBeforeOn: null,
    quantities: [],
    sscc: null,
    other: [],
    says: [],
  };
  const seen = new Set<string>();
  for (const element of elements) {
    if (!seen.has(element.ai)) scan.says.push(tell(scan, element, thisYear));
    seen.add(element.ai);
  }
  return scan;
}

function tell(scan: Mutable, { ai, value }: Gs1Element, thisYear: number): string {
  const place = PLACES[ai];
  if (place !== undefined) return place(scan, value, thisYear);
  const own = readOwn(ai, value);
  if (own !== null) {
    scan[own.name] = own.code;
    return `${{ lot: 'Lot', item: 'Item', serial: 'Serial number' }[own.name]} ${own.code}, by a label of this plant`;
  }
  const title = applicationIdentifier(ai)?.title ?? '';
  const measure = readMeasure(ai, value);
  const unit = NET_UNITS.get(ai.slice(0, 3));
  if (measure !== null && unit !== undefined) {
    scan.quantities.push({ value: measure.value, unit });
    return capital(`${measure.what} ${measure.value} ${measure.unit}`);
  }
  const readable = measure === null ? readableValue(ai, value, thisYear) : `${measure.value} ${measure.unit}`;
  scan.other.push({ ai, title, value: readable });
  return measure === null ? `${title} (${ai}): ${readable}` : capital(`${measure.what} ${readable}`);
}

function readableValue(ai: string, value: string, thisYear: number): string {
  return DAYS.has(ai) ? `${dateOf(value, thisYear)}${hourOf(value)}` : value;
}
