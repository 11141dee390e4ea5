import { IsBoolean, IsOptional } from 'class-validator';
import { CommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsPieces, IsPlainText, IsQuantity } from '../../platform/http/fields.js';

/** A part of a lot: pieces of a numbered one, a quantity of a bulk one. */
export class StockPartDto extends CommandDto {
  @IsCode()
  lot: string;

  /** Piece numbers, as "5-17,40". */
  @IsOptional()
  @IsPieces()
  pieces?: string;

  /** Decimal in the lot's unit. */
  @IsOptional()
  @IsQuantity()
  quantity?: string;

  /** Location or vessel it is taken from, or where the retain sample is kept; left out: wherever it is on hand. */
  @IsOptional()
  @IsCode()
  from?: string;

  @IsPlainText(2000)
  reason: string;
}

export class MoveStockDto extends StockPartDto {
  /** Location it goes to. */
  @IsCode()
  to: string;
}

export class ScrapStockDto extends StockPartDto {
  /** What shows that it was done: a weighbridge slip, a witness. */
  @IsOptional()
  @IsPlainText(2000)
  evidence?: string;
}

export class DestroyInTestDto extends ScrapStockDto {}

export class RetainSampleDto extends StockPartDto {
  /** Location for retain samples. */
  @IsCode()
  at: string;
}

export class TakeBackSampleDto extends StockPartDto {
  /** Location the sample is kept at. */
  @IsCode()
  at: string;

  /** Location it goes to. */
  @IsCode()
  to: string;
}

export class ReturnToSupplierDto extends StockPartDto {
  /** Number of the paper that goes with the goods. */
  @IsCode()
  supplierDocument: string;
}

export class CountStockDto extends CommandDto {
  @IsCode()
  lot: string;

  @IsCode()
  location: string;

  /** Pieces found there, of a numbered lot. */
  @IsOptional()
  @IsPieces()
  pieces?: string;

  /** Quantity found there, of a bulk lot. */
  @IsOptional()
  @IsQuantity()
  quantity?: string;

  /** True when nothing of the lot was found there. */
  @IsOptional()
  @IsBoolean()
  nothing?: boolean;

  @IsPlainText(2000)
  reason: string;
}

export class CorrectStockDto extends CommandDto {
  /** Number of the stock document that was wrong. */
  @IsCode()
  corrects: string;

  @IsPlainText(2000)
  reason: string;
}

export class StockMovementView {
  pieces: string | null;
  quantity: string;
  fromFate: string;
  fromAt: string;
  toFate: string;
  toAt: string;
}

export class StockDocumentView {
  document: string;
  kind: string;
  lot: string;
  seq: number;
  at: string;
  by: string;
  reason: string | null;
  evidence: string | null;
  moved: StockMovementView[];
  correctsSeq: number | null;
  correctedSeq: number | null;
}
