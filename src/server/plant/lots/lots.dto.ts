import { Transform } from 'class-transformer';
import { ArrayMaxSize, IsArray, IsIn, IsInt, IsOptional, Max, Min } from 'class-validator';
import { AsNumber, IsCode } from '../../platform/http/fields.js';
import { ITEM_CLASSES, type ItemClass } from '../catalogue/catalogue.facts.js';
import type { Origin } from '../stock/effects.facts.js';

/** What lots can be searched for by; a lot with any part in it is found. */
export const LOT_SEARCH_STATUSES = ['quarantine', 'released', 'not-accepted', 'held', 'expired', 'scrapped'] as const;
export type LotSearchStatus = (typeof LOT_SEARCH_STATUSES)[number];

export const LOT_SORTS = ['code', '-bornAt', 'expiresOn'] as const;
export type LotSort = (typeof LOT_SORTS)[number];

export const LOT_ORIGINS = ['received', 'made', 'opening', 'returned'] as const satisfies readonly Origin[];
export type LotOrigin = (typeof LOT_ORIGINS)[number];

export class FindLotsDto {
  /** Part of a plant lot code, a supplier's lot code or a serial; upper and lower case are the same here. */
  @IsOptional()
  @IsCode()
  query?: string;

  /** Exactly these plant lots: `lots=B-1&lots=B-2`. */
  @IsOptional()
  @Transform(({ value }: { value: unknown }) => (typeof value === 'string' ? [value] : value))
  @IsArray()
  @ArrayMaxSize(500)
  @IsCode({ each: true })
  lots?: string[];

  @IsOptional()
  @IsCode()
  item?: string;

  @IsOptional()
  @IsCode()
  supplier?: string;

  @IsOptional()
  @IsCode()
  location?: string;

  @IsOptional()
  @IsIn(LOT_SEARCH_STATUSES)
  status?: LotSearchStatus;

  @IsOptional()
  @AsNumber()
  @IsInt()
  @Min(1)
  @Max(500)
  limit?: number;

  /** Lot code after which to go on; only in the order of codes. */
  @IsOptional()
  @IsCode()
  after?: string;

  /** How many lots to pass over. */
  @IsOptional()
  @AsNumber()
  @IsInt()
  @Min(0)
  @Max(1_000_000_000)
  offset?: number;

  /** By code, the newest first, or what expires first (what never does at the end). Default `code`. */
  @IsOptional()
  @IsIn(LOT_SORTS)
  sort?: LotSort;

  /** How the lot came to be here. */
  @IsOptional()
  @IsIn(LOT_ORIGINS)
  origin?: LotOrigin;

  /** Class of its item. */
  @IsOptional()
  @IsIn(ITEM_CLASSES)
  class?: ItemClass;
}

export class LotQueryDto {
  /** Ledger entry as of which to show the lot. */
  @IsOptional()
  @AsNumber()
  @IsInt()
  @Min(0)
  asKnownAt?: number;
}

/** A word of the stamp and the part of the lot it is on. */
export class StampView {
  /** QUARANTINE, RELEASED, HELD, NOT ACCEPTED, EXPIRED or SCRAPPED. */
  stamp: string;
  /** Null: all of a bulk lot, or `quantity` of it. */
  pieces: string | null;
  quantity: string | null;
}

export class LotLineView {
  lot: string;
  item: string;
  itemName: string;
  unit: string;
  pieces: number | null;
  quantity: string;
  onHand: string;
  origin: string;
  bornAt: string;
  supplier: string | null;
  supplierLot: string | null;
  expiresOn: string | null;
  stamps: StampView[];
}

export class LotListView {
  /** How many lots match, on all pages. */
  total: number;
  lots: LotLineView[];
}

export class PlacePartView {
  fate: string;
  at: string;
  pieces: string | null;
  quantity: string;
  /** Who has it, where it was dispatched. */
  customer: string | null;
  customerName: string | null;
}

export class LotHoldView {
  hold: string;
  /** The held lot: this one, or one it was made from. */
  lot: string;
  /** True when the hold is on something this lot was made from. */
  inherited: boolean;
  /** Pieces of this lot that it stops; null for a bulk lot. */
  pieces: string | null;
  /** Set when only a quantity of a bulk lot is held. */
  quantity: string | null;
  reason: string;
  reaches: boolean;
}

/** A signed decision to use the lot although something stands against it, open then. */
export class LotUrgentReleaseView {
  urgentRelease: string;
  pieces: string | null;
  setsAside: string[];
  reason: string;
  signedBy: string;
}

/** A nonconformance report that judged a part of the lot affected. */
export class LotReportView {
  report: string;
  /** As at the entry asked for. */
  state: string;
  /** Neither closed nor withdrawn then: the part is nonconforming. */
  open: boolean;
  severity: string;
  requirement: string;
  pieces: string | null;
  quantity: string | null;
}

/** What one run took off the lot, and what the genealogy says became of it. */
export class RunUseView {
  run: string;
  /** Null while nothing that the run made is recorded. */
  kind: string | null;
  consumed: string;
  /** What links say went into the lots made. */
  linked: string;
  /** Consumed less linked: what an open run has taken and not yet made into anything, or what a record is missing. */
  gap: string;
  /** Lots made with it. */
  made: string[];
}

export class LotLinkView {
  /** Ledger entry and number of the link within it. */
  link: string;
  lot: string;
  item: string;
  itemName: string;
  fromPieces: string | null;
  toPieces: string | null;
  quantity: string;
  map: 'all' | 'each';
  run: string;
  kind: string;
  at: string;
}

/** In, out and on hand of a lot; the gap is zero, or the record is at fault (21 CFR 211.184(c)). */
export class ReconciliationView {
  quantity: string;
  onHand: string;
  consumed: string;
  dispatched: string;
  scrapped: string;
  retained: string;
  destroyedInTest: string;
  returnedToSupplier: string;
  countDifference: string;
  gap: string;
  usedBy: RunUseView[];
}

export class LotView {
  lot: string;
  item: string;
  itemName: string;
  itemRevision: number;
  unit: string;
  pieces: number | null;
  quantity: string;
  origin: string;
  bornAt: string;
  bornSeq: number;
  madeOn: string | null;
  expiresOn: string | null;
  supplier: string | null;
  supplierLot: string | null;
  supplierLotAssigned: boolean;
  /** The delivery, run, return or import it came from. */
  source: string;
  /** Who recorded it. */
  bornBy: string;
  /** Lots received before under the same supplier lot. */
  earlier: string[];
  /** Ledger entry as of which all this is so. */
  asKnownAt: number;
  stamps: StampView[];
  places: PlacePartView[];
  holds: LotHoldView[];
  reports: LotReportView[];
  urgentReleases: LotUrgentReleaseView[];
  madeFrom: LotLinkView[];
  wentInto: LotLinkView[];
  reconciliation: ReconciliationView;
  hazard: string | null;
  /** The record of the lot has to be kept until this day at least. */
  recordKeptUntil: string;
}

export class SerialView {
  item: string;
  serial: string;
  lot: string;
  piece: number;
  fate: string;
  at: string;
  /** Who has it, if it was dispatched. */
  customer: string | null;
}
