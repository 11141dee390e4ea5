import { Type } from 'class-transformer';
import { ArrayMaxSize, ArrayMinSize, ArrayUnique, IsArray, IsBoolean, IsIn, IsOptional, ValidateNested } from 'class-validator';
import { SignedCommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsPieces, IsQuantity } from '../../platform/http/fields.js';
import type { SetAside } from './holds.facts.js';

export class HoldPartDto {
  @IsCode()
  lot: string;

  /** Pieces of a numbered lot, as "5-17,40". */
  @IsOptional()
  @IsPieces()
  pieces?: string;

  /** A quantity of a bulk lot; left out, as `pieces`: all of the lot. */
  @IsOptional()
  @IsQuantity()
  quantity?: string;
}

export class PlaceHoldDto extends SignedCommandDto {
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(500)
  @ValidateNested({ each: true })
  @Type(() => HoldPartDto)
  parts: HoldPartDto[];

  /** Whether what was made from it is stopped too. */
  @IsBoolean()
  reaches: boolean;

  /** Person who owns the hold; left out: the signer. */
  @IsOptional()
  @IsCode()
  owner?: string;
}

export class LiftHoldDto extends SignedCommandDto {}

export class OpenUrgentReleaseDto extends SignedCommandDto {
  @IsCode()
  lot: string;

  @IsOptional()
  @IsPieces()
  pieces?: string;

  /** What the decision sets aside: that the lot is in quarantine, expired, or held (itself or by what it was made from). */
  @IsArray()
  @ArrayMinSize(1)
  @ArrayUnique()
  @IsIn(['quarantine', 'expired', 'held'], { each: true })
  setsAside: SetAside[];
}

export class CloseUrgentReleaseDto extends SignedCommandDto {}

export class HeldPartView {
  lot: string;
  item: string;
  /** Null: all of a bulk lot, or `quantity` of it. */
  pieces: string | null;
  quantity: string | null;
}

export class HoldView {
  hold: string;
  parts: HeldPartView[];
  reaches: boolean;
  reason: string;
  owner: string;
  placedAt: string;
  placedBy: string;
  placedSeq: number;
  liftedAt: string | null;
  liftedBy: string | null;
  liftedSeq: number | null;
  liftReason: string | null;
}

/** A part of what is held, or of a lot made from it, and where it is now. */
export class ReachedPartView {
  lot: string;
  item: string;
  pieces: string | null;
  /** `on hand`, `in process` (on hand in a vessel), `consumed`, `dispatched`, … */
  where: string;
  fate: string;
  at: string;
  quantity: string;
  unit: string;
  /** Who has it, where it was dispatched. */
  customer: string | null;
}

/** How much of what a hold stops is where. */
export class HoldWhereView {
  where: string;
  lots: number;
  pieces: number;
  /** Who has it, where it was dispatched. */
  customers: string[];
}

export class HoldReachView extends HoldView {
  /** The held parts themselves, and where they are. */
  held: ReachedPartView[];
  /** Everything made from what is held, where the hold reaches. */
  reached: ReachedPartView[];
  reachedLots: number;
  reachedPieces: number;
  /** Held and reached together, counted by where it is. */
  where: HoldWhereView[];
}

export class UrgentReleaseView {
  urgentRelease: string;
  lot: string;
  pieces: string | null;
  setsAside: string[];
  reason: string;
  signedBy: string;
  openedAt: string;
  openedSeq: number;
  closedAt: string | null;
  closedBy: string | null;
  closedSeq: number | null;
  closeReason: string | null;
  /** Everything made from it since: marked until closed. */
  marks: string[];
  /** Shipments that went out under it; they stay listed after it is closed. */
  shipments: string[];
}
