import { Type } from 'class-transformer';
import { ArrayMaxSize, ArrayMinSize, IsArray, IsInt, IsOptional, Max, Min, ValidateNested } from 'class-validator';
import { CommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsDate, IsInstant, IsPlainText, IsQuantity } from '../../platform/http/fields.js';

export class BookLineDto {
  /** Item code. */
  @IsCode()
  item: string;

  /** Decimal in the item's base unit, as "25.5". */
  @IsQuantity()
  quantity: string;

  /** The supplier's lot code as on the label; leave out when there is none and the plant assigns one. */
  @IsOptional()
  @IsCode()
  supplierLot?: string;

  /** Serials of the pieces, one for each, for items that carry their own. */
  @IsOptional()
  @IsArray()
  @ArrayMaxSize(10_000)
  @IsCode({ each: true })
  serials?: string[];

  /** Number of drums, boxes or pallets. */
  @IsOptional()
  @IsInt()
  @Min(1)
  @Max(100_000)
  containers?: number;

  @IsOptional()
  @IsDate()
  madeOn?: string;

  /** Left out: worked out from `madeOn` and the item's shelf life, where both are known. */
  @IsOptional()
  @IsDate()
  expiresOn?: string;
}

export class BookDeliveryDto extends CommandDto {
  /** Party code of the supplier. */
  @IsCode()
  supplier: string;

  /** What the document is, as `delivery note`. */
  @IsCode()
  documentType: string;

  /** Its number. */
  @IsCode()
  document: string;

  /** When the goods arrived; left out: now. */
  @IsOptional()
  @IsInstant()
  receivedAt?: string;

  /** Location code where the goods were put. */
  @IsCode()
  location: string;

  /** Condition of goods and packaging on arrival. */
  @IsPlainText(500)
  condition: string;

  @IsOptional()
  @IsPlainText(2000)
  note?: string;

  /** One line per supplier lot: a line never holds two. */
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => BookLineDto)
  lines: BookLineDto[];
}

export class ReverseDeliveryDto extends CommandDto {
  /** Why the delivery was booked in error. */
  @IsPlainText(2000)
  reason: string;
}

/** A line as it was booked. */
export class DeliveryLineView {
  lot: string;
  item: string;
  quantity: string;
  unit: string;
  supplierLot: string;
  /** True when the delivery carried no lot code and the plant assigned one. */
  supplierLotAssigned: boolean;
  containers: number | null;
  madeOn: string | null;
  expiresOn: string | null;
  /** Lots received before under the same supplier lot. */
  earlier: string[];
  expiredOnArrival: boolean;
}

export class DeliveryReversalView {
  seq: number;
  reason: string;
}

export class DeliveryView {
  delivery: string;
  supplier: string;
  documentType: string;
  document: string;
  receivedAt: string;
  location: string;
  condition: string;
  note: string | null;
  /** Ledger entry that booked it. */
  seq: number;
  /** Set when it was booked in error: its lots count as never found. */
  reversed: DeliveryReversalView | null;
  lines: DeliveryLineView[];
}
