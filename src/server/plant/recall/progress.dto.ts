import { Type } from 'class-transformer';
import { ArrayMaxSize, ArrayMinSize, ArrayUnique, IsArray, IsBoolean, IsIn, IsInt, IsOptional, Min, ValidateNested } from 'class-validator';
import { CommandDto, SignedCommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsDate, IsPieces, IsPlainText, IsQuantity } from '../../platform/http/fields.js';
import { type Channel, CHANNELS, CHECK_METHODS, type CheckMethod } from './progress.facts.js';

export class LinkReportsDto extends CommandDto {
  /** Nonconformance reports the recall comes from. */
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(100)
  @ArrayUnique()
  @IsCode({ each: true })
  reports: string[];
}

/** The statements of a notice. Brief, and nothing that draws attention from them: no promotion. */
export class NoticeTextDto extends CommandDto {
  /** For class I and II it begins with URGENT. */
  @IsPlainText(200)
  subject: string;

  /** Product, size, lots, codes or serials; every lot the consignee was sent by its code. */
  @IsPlainText(4000)
  product: string;

  /** The reason and the hazard. */
  @IsPlainText(2000)
  reason: string;

  /** That it is subject to a recall: stop distributing and using it. */
  @IsPlainText(1000)
  stop: string;

  /** What to do with the product. */
  @IsPlainText(2000)
  doWhat: string;

  /** Tell those the product went on to; left out where consignees are the last in the chain. */
  @IsOptional()
  @IsPlainText(1000)
  passOn?: string;

  /** How to reply, easily. */
  @IsPlainText(1000)
  replyTo: string;
}

export class SendNoticeDto extends CommandDto {
  /** Left out for a public warning. */
  @IsOptional()
  @IsCode()
  customer?: string;

  @IsIn(CHANNELS)
  channel: Channel;

  /** Version of the text. */
  @IsInt()
  @Min(1)
  contentVersion: number;

  /** When the consignee is asked again if it has not answered; left out: by the class. */
  @IsOptional()
  @IsDate()
  nextContactOn?: string;
}

export class FollowedDto {
  /** Stopped distributing and using it. */
  @IsBoolean()
  stopped: boolean;

  /** Did with the product what was asked. */
  @IsBoolean()
  acted: boolean;

  /** Told its own customers; left out where it has none. */
  @IsOptional()
  @IsBoolean()
  passedOn?: boolean;
}

export class StatedPartDto {
  /** Pieces of a numbered lot, as "5-17,40". */
  @IsOptional()
  @IsPieces()
  pieces?: string;

  /** A quantity of a bulk lot; "0" for nothing of either. */
  @IsOptional()
  @IsQuantity()
  quantity?: string;
}

export class OnHandPartDto extends StatedPartDto {
  @IsCode()
  lot: string;
}

export class RecallAnswerDto extends CommandDto {
  @IsCode()
  customer: string;

  @ValidateNested()
  @Type(() => FollowedDto)
  followedInstructions: FollowedDto;

  /** What it has of each lot; empty when nothing is left. */
  @IsArray()
  @ArrayMaxSize(1000)
  @ValidateNested({ each: true })
  @Type(() => OnHandPartDto)
  onHand: OnHandPartDto[];

  /** Who signed the reply there. */
  @IsPlainText(200)
  signedBy: string;

  /** The date on the reply. */
  @IsDate()
  answeredOn: string;

  @IsOptional()
  @IsPlainText(2000)
  note?: string;
}

/** All that a consignee has accounted for of a lot so far. What came back is counted from the returns booked here. */
export class RecallAccountDto extends CommandDto {
  @IsCode()
  customer: string;

  @IsCode()
  lot: string;

  @IsOptional()
  @ValidateNested()
  @Type(() => StatedPartDto)
  destroyed?: StatedPartDto;

  @IsOptional()
  @ValidateNested()
  @Type(() => StatedPartDto)
  corrected?: StatedPartDto;

  /** Sold on, with evidence: no longer there, and not called back from there. */
  @IsOptional()
  @ValidateNested()
  @Type(() => StatedPartDto)
  soldOn?: StatedPartDto;

  /** What shows it: a certificate, the reply, a list. */
  @IsPlainText(1000)
  evidence: string;
}

export class EffectivenessCheckDto extends CommandDto {
  @IsCode()
  customer: string;

  @IsIn(CHECK_METHODS)
  method: CheckMethod;

  /** Whether the notice had reached those who were to act. */
  @IsBoolean()
  reached: boolean;

  @IsBoolean()
  followed: boolean;

  @IsPlainText(2000)
  note: string;
}

export class RecallGapDto extends CommandDto {
  @IsPlainText(2000)
  found: string;

  /** What is to be done about it. */
  @IsPlainText(2000)
  action: string;

  @IsCode()
  owner: string;

  @IsDate()
  dueOn: string;
}

export class GapDoneDto extends CommandDto {
  @IsPlainText(2000)
  done: string;
}

export class CloseRecallDto extends SignedCommandDto {
  /** Why it is closed although something is outstanding. */
  @IsOptional()
  @IsPlainText(2000)
  nevertheless?: string;
}
