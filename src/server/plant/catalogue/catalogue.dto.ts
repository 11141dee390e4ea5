import { IsIn, IsInt, IsOptional, IsString, Matches, Max, MaxLength, Min } from 'class-validator';
import { CommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsPlainText, IsQuantity } from '../../platform/http/fields.js';
import { ITEM_CLASSES, type ItemClass } from './catalogue.facts.js';

/** What every catalogue record may carry. */
export class ReviseDto extends CommandDto {
  @IsCode()
  code: string;

  @IsPlainText(200)
  name: string;

  /** The revision being revised, as it was seen; leave out for a new record. */
  @IsOptional()
  @IsInt()
  @Min(1)
  revision?: number;

  /** Why it is revised; needed with `revision`. */
  @IsOptional()
  @IsPlainText(2000)
  reason?: string;
}

export class ItemDto extends ReviseDto {
  @IsIn(ITEM_CLASSES)
  class: ItemClass;

  @IsIn(['kg', 'L', 'm', 'each'])
  unit: 'kg' | 'L' | 'm' | 'each';

  /** Lots are a quantity (`bulk`), numbered pieces (`pieces`), or pieces with serials of their own (`serial`). */
  @IsIn(['bulk', 'pieces', 'serial'])
  tracking: 'bulk' | 'pieces' | 'serial';

  /** 8, 12, 13 or 14 digits with a right check digit. */
  @IsOptional()
  @IsString()
  @MaxLength(14)
  gtin?: string;

  /** Kilograms per litre, as "0.85". */
  @IsOptional()
  @IsQuantity()
  density?: string;

  @IsOptional()
  @IsInt()
  @Min(1)
  @Max(36_500)
  shelfLifeDays?: number;

  /** Nominal content of one can in kilograms, as "0.25". */
  @IsOptional()
  @IsQuantity()
  content?: string;

  /** Pattern of generated serials, as `K-{n:5}`. */
  @IsOptional()
  @IsCode()
  serialPattern?: string;

  @IsOptional()
  @IsPlainText(500)
  hazard?: string;

  @IsOptional()
  @IsPlainText(500)
  storage?: string;
}

export class PartyDto extends ReviseDto {
  @IsIn(['supplier', 'customer', 'both'])
  role: 'supplier' | 'customer' | 'both';

  /** 13 digits with a right check digit. */
  @IsOptional()
  @IsString()
  @Matches(/^\d{1,20}$/, { message: 'gln: must be digits' })
  gln?: string;

  /** Whom to tell in a recall. */
  @IsOptional()
  @IsPlainText(500)
  contact?: string;
}

export class VesselDto extends ReviseDto {
  /** What it holds, in kilograms. */
  @IsOptional()
  @IsQuantity()
  capacity?: string;
}

export class LineDto extends ReviseDto {}

export class LocationDto extends ReviseDto {
  /** Ordinary stock, quarantine, or retain samples. */
  @IsIn(['stock', 'quarantine', 'retain'])
  use: 'stock' | 'quarantine' | 'retain';
}

export class ItemView {
  code: string;
  revision: number;
  name: string;
  class: string;
  unit: string;
  tracking: string;
  gtin: string | null;
  density: string | null;
  shelfLifeDays: number | null;
  content: string | null;
  serialPattern: string | null;
  hazard: string | null;
  storage: string | null;
}

export class PartyView {
  code: string;
  revision: number;
  name: string;
  role: string;
  gln: string | null;
  contact: string | null;
}

export class VesselView {
  code: string;
  revision: number;
  name: string;
  capacity: string | null;
}

export class LineView {
  code: string;
  revision: number;
  name: string;
}

export class LocationView {
  code: string;
  revision: number;
  name: string;
  use: string;
}

/** When a revision stood, who made it and why. */
export class RevisionView {
  revision: number;
  /** The entry that made it. */
  sinceSeq: number;
  /** The entry that made the next one; null while it stands. */
  untilSeq: number | null;
  at: string;
  by: string;
  reason: string | null;
}

export class ItemRevisionView extends RevisionView {
  record: ItemView;
}

export class PartyRevisionView extends RevisionView {
  record: PartyView;
}

export class VesselRevisionView extends RevisionView {
  record: VesselView;
}

export class LineRevisionView extends RevisionView {
  record: LineView;
}

export class LocationRevisionView extends RevisionView {
  record: LocationView;
}
