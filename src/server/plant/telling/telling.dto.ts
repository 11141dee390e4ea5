import { IsInt, IsOptional, Max, Min } from 'class-validator';
import { AsNumber, IsCode } from '../../platform/http/fields.js';

export class EntriesQueryDto {
  /** Number of the first entry wanted; left out: the latest ones. */
  @IsOptional()
  @AsNumber()
  @IsInt()
  @Min(1)
  from?: number;

  /** At most so many entries, 1 to 200; left out: 50. */
  @IsOptional()
  @AsNumber()
  @IsInt()
  @Min(1)
  @Max(200)
  limit?: number;
}

/** One record, by its code; exactly one of these. */
export class AboutQueryDto extends EntriesQueryDto {
  @IsOptional()
  @IsCode()
  lot?: string;

  @IsOptional()
  @IsCode()
  run?: string;

  @IsOptional()
  @IsCode()
  delivery?: string;

  @IsOptional()
  @IsCode()
  shipment?: string;

  @IsOptional()
  @IsCode()
  return?: string;

  @IsOptional()
  @IsCode()
  hold?: string;

  @IsOptional()
  @IsCode()
  urgentRelease?: string;

  @IsOptional()
  @IsCode()
  inspection?: string;

  @IsOptional()
  @IsCode()
  report?: string;

  @IsOptional()
  @IsCode()
  instrument?: string;

  @IsOptional()
  @IsCode()
  calibration?: string;

  @IsOptional()
  @IsCode()
  defect?: string;

  @IsOptional()
  @IsCode()
  recall?: string;

  @IsOptional()
  @IsCode()
  import?: string;

  /** A stock document of the plant, or a paper that came or went with goods. */
  @IsOptional()
  @IsCode()
  document?: string;

  @IsOptional()
  @IsCode()
  item?: string;

  @IsOptional()
  @IsCode()
  party?: string;

  @IsOptional()
  @IsCode()
  vessel?: string;

  @IsOptional()
  @IsCode()
  line?: string;

  @IsOptional()
  @IsCode()
  location?: string;

  @IsOptional()
  @IsCode()
  recipe?: string;

  @IsOptional()
  @IsCode()
  bom?: string;

  @IsOptional()
  @IsCode()
  person?: string;

  @IsOptional()
  @IsCode()
  key?: string;

  /** Number of an entry: those that correct it. */
  @IsOptional()
  @IsCode()
  entry?: string;
}

/** An entry in plain words. */
export class EntryView {
  seq: number;
  at: string;
  actor: string;
  kind: string;
  /** What happened, in one sentence. */
  says: string;
  /** What it did to lots, a line each: the first hundred. */
  effects: string[];
  /** SHA-256 of the entry's text. */
  hash: string;
}

export class EntriesView {
  /** Number of entries in the ledger. */
  entries: number;
  /** Hash of the last one. */
  hash: string;
  told: EntryView[];
  /** `from` of the next page, null at the end. */
  next: number | null;
}

/** An entry in plain words and as it is stored. */
export class WholeEntryView extends EntryView {
  v: number;
  /** Hash of the entry before. */
  prev: string;
  /** The exact text that was hashed: canonical JSON. */
  body: string;
}
