import { Type } from 'class-transformer';
import { ArrayMaxSize, ArrayMinSize, IsArray, IsOptional, ValidateNested } from 'class-validator';
import { CommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsInstant, IsPlainText, IsQuantity } from '../../platform/http/fields.js';
import { GoodsLineDto } from './goods-line.dto.js';

export class DispatchLineDto extends GoodsLineDto {
  /** Why this and not older stock, where older stock is left standing. */
  @IsOptional()
  @IsPlainText(500)
  pickReason?: string;
}

export class DispatchDto extends CommandDto {
  /** Party code of the next recipient. */
  @IsCode()
  customer: string;

  /** Party code of who pays; left out: the customer. */
  @IsOptional()
  @IsCode()
  billTo?: string;

  /** What the reference document is, as `dispatch note`. */
  @IsCode()
  documentType: string;

  /** Its number. */
  @IsCode()
  document: string;

  /** When the goods left; left out: now. */
  @IsOptional()
  @IsInstant()
  shippedAt?: string;

  /** Location code the goods leave from. */
  @IsCode()
  location: string;

  @IsOptional()
  @IsPlainText(2000)
  note?: string;

  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => DispatchLineDto)
  lines: DispatchLineDto[];
}

export class ReverseShipmentDto extends CommandDto {
  /** Why the shipment was recorded in error. */
  @IsPlainText(2000)
  reason: string;
}

/** What a list of shipments or of recipients may be narrowed by. */
export class ShipmentFilterDto {
  @IsOptional()
  @IsCode()
  customer?: string;

  @IsOptional()
  @IsCode()
  lot?: string;

  @IsOptional()
  @IsCode()
  item?: string;

  /** Shipped at this instant or later. */
  @IsOptional()
  @IsInstant()
  since?: string;

  /** Shipped before this instant. */
  @IsOptional()
  @IsInstant()
  until?: string;
}

export class PickQueryDto {
  /** How much is wanted: decimal in the item's unit. */
  @IsQuantity()
  quantity: string;

  /** Only stock at this location. */
  @IsOptional()
  @IsCode()
  location?: string;
}

export class ShipmentLineView {
  lot: string;
  item: string;
  /** Name of the item as it was when the lot came into being. */
  description: string;
  gtin: string | null;
  /** `[first, last]` pairs; null for a bulk lot. */
  spans: number[][] | null;
  /** The same as text, as "5-17,40". */
  pieces: string | null;
  quantity: string;
  unit: string;
  /** Serials of the pieces, where they carry their own. */
  serials: string[];
  /** Who gave the lot its code, and by which document. */
  lotCodeSource: string;
  madeOn: string | null;
  expiresOn: string | null;
  urgentReleases: string[];
  /** Older stock that was left standing. */
  passedOver: string[];
  pickReason: string | null;
}

export class ShipmentReversalView {
  seq: number;
  reason: string;
}

/** A shipment as recorded; it is the dispatch note that goes with the goods. */
export class ShipmentView {
  shipment: string;
  customer: string;
  customerName: string;
  customerGln: string | null;
  customerContact: string | null;
  billTo: string;
  documentType: string | null;
  document: string | null;
  shippedAt: string;
  /** Null in records brought over that do not say. */
  location: string | null;
  locationName: string | null;
  note: string | null;
  /** Ledger entry that recorded it. */
  seq: number;
  reversed: ShipmentReversalView | null;
  lines: ShipmentLineView[];
}

/** A business the plant supplied. */
export class RecipientView {
  customer: string;
  name: string;
  gln: string | null;
  contact: string | null;
  shipments: number;
  firstShippedAt: string;
  lastShippedAt: string;
  /** Lots that went there. */
  lots: string[];
}

export class PickLineView {
  lot: string;
  at: string;
  pieces: string | null;
  quantity: string;
  unit: string;
  expiresOn: string | null;
  bornAt: string;
}

export class PickSkippedView {
  lot: string;
  pieces: string | null;
  quantity: string;
  code: string;
  detail: string;
}

export class PickView {
  item: string;
  wanted: string;
  /** What is wanted and cannot be had. */
  short: string;
  /** Oldest first. */
  proposed: PickLineView[];
  /** What lies there and may not go, and why. */
  skipped: PickSkippedView[];
}
