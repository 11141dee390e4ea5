import { IsOptional } from 'class-validator';
import { CommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsInstant, IsPlainText, IsQuantity } from '../../platform/http/fields.js';

export class EmptyVesselDto extends CommandDto {
  /** Left out: now. */
  @IsOptional()
  @IsInstant()
  at?: string;

  /** Where what was left goes; left out: scrapped. */
  @IsOptional()
  @IsCode()
  location?: string;

  @IsPlainText(2000)
  reason: string;
}

export class CleanVesselDto extends CommandDto {
  /** Left out: now. */
  @IsOptional()
  @IsInstant()
  at?: string;

  /** How it was cleaned. */
  @IsPlainText(2000)
  method: string;
}

export class TransferRunDto extends CommandDto {
  /** Vessel the running batch goes on in. */
  @IsCode()
  to: string;

  @IsOptional()
  @IsInstant()
  at?: string;
}

export class TransferBatchDto extends CommandDto {
  /** Batch that is pumped. */
  @IsCode()
  lot: string;

  /** Left out: all of it. */
  @IsOptional()
  @IsQuantity()
  quantity?: string;

  /** Vessel it is pumped into. */
  @IsCode()
  to: string;

  @IsOptional()
  @IsInstant()
  at?: string;
}

export class VesselContentPartView {
  lot: string;
  item: string;
  name: string;
  quantity: string;
  unit: string;
}

export class VesselEventView {
  what: 'batch' | 'emptied' | 'cleaned';
  at: string;
  seq: number;
  lot: string | null;
  run: string | null;
  detail: string | null;
}

export class VesselContentView {
  vessel: string;
  content: VesselContentPartView[];
  /** Run that is open in it. */
  openRun: string | null;
  /** Run that went on from it in another vessel and is still open, with no cleaning since: it is not clean, though its batch has no name yet. */
  leftBy: string | null;
  /** Batch that was in it last since it was cleaned: it goes into whatever comes next. Null: clean. */
  lastBatch: string | null;
  lastBatchAt: string | null;
  cleanedAt: string | null;
  /** The latest 50 things that happened to it, newest first. */
  history: VesselEventView[];
}
