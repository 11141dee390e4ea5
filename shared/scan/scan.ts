import type { Reason } from '../refusal.js';

/** How much a label says there is, in the units the plant counts in; `value` is exact decimal text. */
export interface ScannedQuantity {
  readonly value: string;
  readonly unit: 'each' | 'kg' | 'L' | 'm';
}

/** An element that has no place of its own here, with its value made readable: dates as YYYY-MM-DD, measures with their unit. */
export interface OtherElement {
  readonly ai: string;
  readonly title: string;
  readonly value: string;
}

/** What was understood of a code that follows a standard. Everything that was in it is in one of these members. */
export interface Gs1Scan {
  readonly kind: 'gs1';
  readonly form: 'element-string' | 'digital-link' | 'gtin';
  /** As scanned. */
  readonly text: string;
  /** Always 14 digits: the item in hand (01), or what a pallet holds (02). */
  readonly gtin: string | null;
  /** (10), or the plant's own lot code on a label of ours that has no GTIN. */
  readonly lot: string | null;
  /** (21), or the plant's own on a label of ours. */
  readonly serial: string | null;
  /** The plant's own code of the item, on a label of ours that has no GTIN. */
  readonly item: string | null;
  /** (17), or the day of (7003). */
  readonly expiresOn: string | null;
  /** (11), or the day of (8008). */
  readonly madeOn: string | null;
  /** (15). */
  readonly bestBeforeOn: string | null;
  /** The one quantity the label states; null when it states none, or several: then all are in `quantities`. */
  readonly quantity: ScannedQuantity | null;
  readonly quantities: readonly ScannedQuantity[];
  /** (00): the pallet or case. */
  readonly sscc: string | null;
  readonly other: readonly OtherElement[];
  /** Plain words, one line per element understood. */
  readonly says: readonly string[];
  /** What a person should look at before going on; nothing here forbids it. */
  readonly cautions: readonly string[];
}

/** Text that follows no standard known here: a lot code, an item code, anything. */
interface PlainScan {
  readonly kind: 'plain';
  /** Without the symbology identifier the scanner may have sent. */
  readonly text: string;
}

/** A code that is wrong: it follows a standard and breaks it. Nothing of it may be used. */
interface FaultyScan {
  readonly kind: 'faulty';
  readonly text: string;
  /** Each with `at`, the character it is about, counted from 0 in the text as scanned. */
  readonly reasons: readonly Reason[];
}

/** What a scan means. */
export type Scan = Gs1Scan | PlainScan | FaultyScan;
