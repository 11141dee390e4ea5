import { Type } from 'class-transformer';
import { ArrayMaxSize, ArrayMinSize, IsArray, IsOptional, ValidateNested } from 'class-validator';
import { CommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsInstant, IsPlainText } from '../../platform/http/fields.js';
import { GoodsLineDto } from '../dispatch/goods-line.dto.js';

export class ReturnLineDto extends GoodsLineDto {
  /** The shipment it went out in; left out: found from the record. */
  @IsOptional()
  @IsCode()
  shipment?: string;
}

export class ReturnGoodsDto extends CommandDto {
  /** Party code of the customer the goods come back from. */
  @IsCode()
  customer: string;

  /** What the document is, as `return note`. */
  @IsCode()
  documentType: string;

  @IsCode()
  document: string;

  /** When the goods arrived; left out: now. */
  @IsOptional()
  @IsInstant()
  returnedAt?: string;

  /** Location code where the goods were put. */
  @IsCode()
  location: string;

  /** Condition of goods and packaging on arrival. */
  @IsPlainText(500)
  condition: string;

  @IsOptional()
  @IsPlainText(2000)
  note?: string;

  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => ReturnLineDto)
  lines: ReturnLineDto[];
}

export class ReverseReturnDto extends CommandDto {
  /** Why the return was booked in error. */
  @IsPlainText(2000)
  reason: string;
}

export class ReturnFilterDto {
  @IsOptional()
  @IsCode()
  customer?: string;

  @IsOptional()
  @IsCode()
  lot?: string;

  @IsOptional()
  @IsCode()
  shipment?: string;
}

/** What came back of one lot and one shipment. */
export class ReturnLineView {
  lot: string;
  item: string;
  spans: number[][] | null;
  pieces: string | null;
  quantity: string;
  unit: string;
  /** The shipment it had gone out in: who had it stays known. */
  shipment: string;
  /** False where nobody named the shipment and the oldest still out was taken. */
  shipmentNamed: boolean;
  /** Bulk: the lot that what came back now is. */
  becomes: string | null;
}

export class ReturnReversalView {
  seq: number;
  reason: string;
}

export class ReturnView {
  returned: string;
  customer: string;
  documentType: string;
  document: string;
  returnedAt: string;
  location: string;
  condition: string;
  note: string | null;
  /** Ledger entry that booked it. */
  seq: number;
  reversed: ReturnReversalView | null;
  lines: ReturnLineView[];
}
