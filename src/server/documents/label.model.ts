import { isValidGtin } from '../../../shared/gs1/check-digit.js';
import { Gs1WriteFault, printedForm, writeElementString } from '../../../shared/gs1/write-element-string.js';
import { elementsOf, type Labelled } from '../../../shared/scan/element-string.js';
import { capital, writtenDate } from '../../../shared/written.js';

/** What a label is made from: a lot, or a unit with a serial number of its own. */
export interface LabelSubject {
  readonly plantName: string;
  readonly demo: boolean;
  readonly printedOn: string;
  readonly item: {
    readonly code: string;
    readonly name: string;
    readonly gtin: string | null;
    readonly hazard: string | null;
    readonly storage: string | null;
  };
  readonly lot: string;
  /** Whether whoever made the goods gave them this lot code: only then may it stand in (10) beside their GTIN. */
  readonly makersLot: boolean;
  /** Null on the label of a lot. */
  readonly serial: string | null;
  /** How much came into being, as written for people; null on the label of a unit. What is left of it is not for a label to say. */
  readonly quantity: string | null;
  readonly supplier: { readonly name: string; readonly lot: string | null } | null;
  /** How the lot came into being, and the day. */
  readonly came: { readonly how: 'received' | 'made' | 'returned' | 'brought over'; readonly on: string };
  readonly expiresOn: string | null;
}

/** What the symbol of a label holds. */
export interface LabelSymbol {
  readonly kind: 'gs1' | 'plain';
  /** A GS1 message without the FNC1 that begins it, or plain text. */
  readonly message: string;
  /** The same for people, one element a line. */
  readonly printed: readonly string[];
}

/** What to mind about the goods. A hazard is set so that nobody takes it for one more line of text. */
export interface LabelNotice {
  readonly word: 'CAUTION' | 'STORE';
  readonly text: string;
}

/** A label as it is printed, in order, with no idea of paper or ink. */
export interface Label {
  readonly plantName: string;
  readonly demo: boolean;
  readonly codeName: 'Lot' | 'Serial number';
  readonly code: string;
  readonly itemName: string;
  readonly itemCode: string;
  readonly facts: readonly { readonly name: string; readonly value: string }[];
  readonly notice: LabelNotice | null;
  /** A label says how goods begin, never how they stand: it is printed once and the state changes. */
  readonly standing: { readonly word: string; readonly says: string };
  readonly printed: string;
  readonly symbol: LabelSymbol;
}

/**
 * The label of a lot or a unit.
 * @see docs/rules/labels.md LB-7 to LB-12
 */
export function labelOf(subject: LabelSubject): Label {
  const { item, serial } = subject;
  return {
    plantName: subject.plantName,
    demo: subject.demo,
    codeName: serial === null ? 'Lot' : 'Serial number',
    code: serial ?? subject.lot,
    itemName: item.name,
    itemCode: item.code,
    facts: factsOf(subject),
    notice: noticeOf(item),
    standing: { word: 'Quarantine', says: 'until released: scan for its state now' },
    printed: `printed ${writtenDate(subject.printedOn)}`,
    symbol: symbolOf(subject),
  };
}

function noticeOf({ hazard, storage }: LabelSubject['item']): LabelNotice | null {
  if (hazard === null) return storage === null ? null : { word: 'STORE', text: storage };
  return { word: 'CAUTION', text: storage === null ? hazard : `${hazard.replace(/\.$/, '')}. ${storage}` };
}

function factsOf(subject: LabelSubject): Label['facts'] {
  const { serial, quantity, supplier, expiresOn, came } = subject;
  const facts: { name: string; value: string }[] = [];
  if (serial !== null) facts.push({ name: 'Lot', value: subject.lot });
  if (quantity !== null) facts.push({ name: `Quantity ${came.how}`, value: quantity });
  facts.push({ name: 'Use by', value: expiresOn === null ? 'not stated' : writtenDate(expiresOn) });
  facts.push({ name: capital(came.how), value: writtenDate(came.on) });
  if (supplier !== null) facts.push({ name: supplier.name, value: supplier.lot ?? 'no lot code of theirs' });
  return facts;
}

/**
 * What the symbol holds: GTIN with lot or serial number where they are the maker's own; else elements of our own; and where a code has
 * letters that no GS1 element may have, the bare code, which a scan still finds.
 * @see docs/decisions/0011-what-a-lot-label-encodes.md
 */
export function symbolOf({ item, lot, makersLot, serial, expiresOn, printedOn }: LabelSubject): LabelSymbol {
  const own: Labelled = { item: item.code, ...(serial === null ? { lot } : { lot, serial }) };
  const makers: Labelled | null =
    item.gtin === null || !isValidGtin(item.gtin) || !(makersLot || serial !== null)
      ? null
      : { gtin: item.gtin, expiresOn, ...(serial === null ? { lot } : { serial, lot: makersLot ? lot : null }) };
  for (const label of makers === null ? [own] : [makers, { ...makers, expiresOn: null }, own]) {
    const symbol = gs1Symbol(label, printedOn);
    if (symbol !== null) return symbol;
  }
  const code = serial ?? lot;
  return { kind: 'plain', message: code, printed: [code] };
}

function gs1Symbol(label: Labelled, today: string): LabelSymbol | null {
  if (label.lot && label.lot.length > 20) return null;
  try {
    const elements = elementsOf(label, today);
    const message = writeElementString(elements, Number(today.slice(0, 4)));
    return { kind: 'gs1', message, printed: elements.map((element) => printedForm([element])) };
  } catch (error) {
    if (error instanceof Gs1WriteFault) return null;
    throw error;
  }
}
