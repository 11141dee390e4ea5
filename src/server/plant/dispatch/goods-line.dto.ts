import { ArrayMaxSize, ArrayMinSize, IsArray, IsOptional } from 'class-validator';
import { IsCode, IsPieces, IsQuantity } from '../../platform/http/fields.js';
import { givenQuantity, givenSpans } from '../../platform/http/given.js';
import type { AskedLine } from './asked-lines.facts.js';

/** One of three ways to say what goes: `lot` with `pieces`, `lot` with `quantity`, or `item` with `serials`. */
export class GoodsLineDto {
  @IsOptional()
  @IsCode()
  lot?: string;

  /** Piece numbers of a numbered lot, as "5-17,40". */
  @IsOptional()
  @IsPieces()
  pieces?: string;

  /** Of a bulk lot: decimal in its unit. */
  @IsOptional()
  @IsQuantity()
  quantity?: string;

  /** Item whose `serials` follow. */
  @IsOptional()
  @IsCode()
  item?: string;

  @IsOptional()
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(10_000)
  @IsCode({ each: true })
  serials?: string[];
}

/** A line as decisions take it: pieces as spans, quantities in millionths. */
export const askedLine = <Line extends GoodsLineDto>({
  pieces,
  quantity,
  ...line
}: Line): AskedLine & Omit<Line, 'pieces' | 'quantity'> => ({
  ...line,
  spans: givenSpans(pieces),
  quantityMicro: givenQuantity(quantity),
});
