import { Transform } from 'class-transformer';
import { IsIn, IsInt, IsOptional, Max, Min } from 'class-validator';
import { IsCode, IsInstant } from '../../platform/http/fields.js';

const asNumber = () => Transform(({ value }: { value: unknown }) => (typeof value === 'string' && /^\d+$/.test(value) ? Number(value) : value));

export class FindLotsDto {
  /** Part of a plant lot code, a supplier's lot code or a serial; upper and lower case are the same here. */
  @IsOptional()
  @IsCode()
  query?: string;

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
  @IsIn(['quarantine', 'released', 'not-accepted'])
  status?: 'quarantine' | 'released' | 'not-accepted';

  @IsOptional()
  @asNumber()
  @IsInt()
  @Min(1)
  @Max(500)
  limit?: number;

  /** Lot code after which to go on. */
  @IsOptional()
  @IsCode()
  after?: string;
}

export class LotQueryDto {
  /** Ledger entry as of which to show the lot. */
  @IsOptional()
  @asNumber()
  @IsInt()
  @Min(0)
  asKnownAt?: number;
}

export class StockFilterDto {
  @IsOptional()
  @IsCode()
  item?: string;

  @IsOptional()
  @IsCode()
  location?: string;
}

export class SuppliersQueryDto {
  @IsOptional()
  @IsInstant()
  from?: string;

  /** Not included itself. */
  @IsOptional()
  @IsInstant()
  to?: string;
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
}

export class LotHoldView {
  hold: string;
  /** The held lot: this one, or one it was made from. */
  lot: string;
  reason: string;
  reaches: boolean;
}

export class LotLinkView {
  /** Ledger entry and number of the link within it. */
  link: string;
  lot: string;
  item: string;
  fromPieces: string | null;
  toPieces: string | null;
  quantity: string;
  /** `all` or `each`. */
  map: string;
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
  asKnownAt: number;
  stamps: StampView[];
  places: PlacePartView[];
  holds: LotHoldView[];
  madeFrom: LotLinkView[];
  wentInto: LotLinkView[];
  reconciliation: ReconciliationView;
  hazard: string | null;
}

export class SerialView {
  item: string;
  serial: string;
  lot: string;
  piece: number;
  fate: string;
  at: string;
}

/** Stock of one item at one location. */
export class StockLineView {
  item: string;
  location: string;
  lot: string;
  pieces: string | null;
  quantity: string;
  unit: string;
  expiresOn: string | null;
  stamps: StampView[];
}

export class SupplyView {
  supplier: string;
  supplierName: string;
  lots: number;
  quantity: string;
  first: string;
  last: string;
}
