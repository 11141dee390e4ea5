import { Transform } from 'class-transformer';
import { IsInt, IsOptional, Matches, Max, Min } from 'class-validator';
import { IsCode, IsPlainText } from '../../platform/http/fields.js';

/** Kinds of things that can be found, in the order in which equally good finds are listed. */
export const FOUND_KINDS = [
  'lot',
  'serial',
  'supplier-lot',
  'item',
  'gtin',
  'delivery',
  'run',
  'inspection',
  'hold',
  'report',
  'recall',
  'shipment',
  'return',
  'party',
  'vessel',
  'line',
  'instrument',
  'location',
  'person',
] as const;
export type FoundKind = (typeof FOUND_KINDS)[number];

export class FindDto {
  /** Anything typed, scanned or pasted: a code, part of one, or part of a name. */
  @IsOptional()
  @IsPlainText(200)
  text?: string;

  /** GTIN of a scanned label, 8 to 14 digits: `lot` and `serial` are then those of this item. */
  @IsOptional()
  @Matches(/^\d{8,14}$/, { message: 'gtin: must be 8 to 14 digits' })
  gtin?: string;

  /** A plant lot code or a supplier's, exactly. */
  @IsOptional()
  @IsCode()
  lot?: string;

  @IsOptional()
  @IsCode()
  serial?: string;

  /** Default 20. */
  @IsOptional()
  @Transform(({ value }: { value: unknown }) => (typeof value === 'string' && /^\d+$/.test(value) ? Number(value) : value))
  @IsInt()
  @Min(1)
  @Max(100)
  limit?: number;
}

export class FindLineView {
  kind: FoundKind;
  code: string;
  /** What it is of: the lot of a serial or of an inspection, the newest plant lot of a supplier's lot, the item of a lot or a GTIN. */
  of: string | null;
  /** The plant lot to open: the lot itself, that of a serial, the newest of a supplier's lot; null for everything that has a page of its own. */
  lot: string | null;
  /** Every plant lot of a supplier's lot, the newest first; left out for everything else. */
  lots?: string[];
  /** Who gave a supplier's lot its code. */
  supplier: string | null;
  /** Piece number of a serial within its lot. */
  piece: number | null;
  /** What it is, in one line. */
  says: string;
  /** The whole code was asked for, upper and lower case aside. */
  exact: boolean;
}

export class FindView {
  /** What was looked for. */
  text: string;
  /** The best first: exactly so, but for upper and lower case, beginning so, containing it. */
  found: FindLineView[];
  /** How many there are, those not listed included. */
  total: number;
}
