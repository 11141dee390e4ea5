import { IsOptional } from 'class-validator';
import { IsCode, IsInstant } from '../../platform/http/fields.js';
import { StampView } from './lots.dto.js';

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

/** Stock of one item at one location. */
export class StockLineView {
  item: string;
  location: string;
  lot: string;
  pieces: string | null;
  quantity: string;
  unit: string;
  expiresOn: string | null;
  bornAt: string;
  /** What is stamped on the part that stands here. */
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
