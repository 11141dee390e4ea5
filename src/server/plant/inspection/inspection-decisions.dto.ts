import { IsOptional } from 'class-validator';
import { CommandDto, SignedCommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsPieces, IsPlainText } from '../../platform/http/fields.js';

export class RequestInspectionDto extends CommandDto {
  @IsCode()
  lot: string;

  /** Pieces to inspect, as "5-17,40"; left out: what of the lot is on hand. */
  @IsOptional()
  @IsPieces()
  pieces?: string;

  /** Why it is inspected, or what was done since it was not accepted. */
  @IsPlainText(2000)
  reason: string;
}

export class SkipInspectionDto extends SignedCommandDto {}

export class CallOffInspectionDto extends CommandDto {
  @IsPlainText(2000)
  reason: string;
}

export class InspectionUrgencyDto extends CommandDto {
  @IsPlainText(2000)
  reason: string;
}
