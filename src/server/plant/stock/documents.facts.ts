import type { SpanSet } from '../../../../shared/spans.js';
import type { PlantFact } from './effects.facts.js';

/** What every stock document says: its number and the lot it is about. What it moved stands in `moved`. */
interface StockDocumentFact extends PlantFact {
  readonly v: 1;
  readonly document: string;
  readonly lot: string;
  readonly reason?: string | undefined;
}

/** A part of a lot was carried from one location to another. No lot comes into being by it (21 CFR 1.1320). */
export type StockMoved = StockDocumentFact & { readonly kind: 'StockMoved' };

/** What was found at a location when it was counted, against what the record said. */
export type StockCounted = StockDocumentFact & {
  readonly kind: 'StockCounted';
  readonly location: string;
  /** Null for a bulk lot. */
  readonly countedSpans: SpanSet | null;
  readonly countedMicro: number;
  /** Found less recorded, in millionths: negative when something is missing. */
  readonly differenceMicro: number;
};

export type StockScrapped = StockDocumentFact & {
  readonly kind: 'StockScrapped';
  readonly evidence?: string | undefined;
};

export type SampleRetained = StockDocumentFact & { readonly kind: 'SampleRetained' };

/** A retain sample went back among the stock. */
export type SampleTakenBack = StockDocumentFact & { readonly kind: 'SampleTakenBack' };

export type DestroyedInTest = StockDocumentFact & {
  readonly kind: 'DestroyedInTest';
  readonly evidence?: string | undefined;
};

export type ReturnedToSupplier = StockDocumentFact & {
  readonly kind: 'ReturnedToSupplier';
  readonly supplier: string;
  /** Number of the paper that went with the goods. */
  readonly supplierDocument: string;
};

/** An earlier stock document was wrong: what it moved goes back. Both stay readable. */
export type StockCorrected = StockDocumentFact & {
  readonly kind: 'StockCorrected';
  /** Ledger entry that is put right. */
  readonly corrects: number;
  readonly correctsDocument: string;
};

export type StockFact =
  | StockMoved
  | StockCounted
  | StockScrapped
  | SampleRetained
  | SampleTakenBack
  | DestroyedInTest
  | ReturnedToSupplier
  | StockCorrected;
