import { IsIn, IsInt, IsOptional, Max, Min } from 'class-validator';
import { IsCode, IsPlainText } from '../../platform/http/fields.js';
import { ReviseDto, RevisionView } from './catalogue.dto.js';

export class InstrumentDto extends ReviseDto {
  /** What it is, as `calliper`, `balance`, `viscometer`. */
  @IsPlainText(100)
  kind: string;

  /** The maker's number on it. */
  @IsOptional()
  @IsCode()
  serial?: string;

  /** Smallest step it shows, with its unit, as `0.01 mm`. */
  @IsOptional()
  @IsPlainText(64)
  resolution?: string;

  /** Days from one calibration to the day the next is due. */
  @IsInt()
  @Min(1)
  @Max(36_500)
  intervalDays: number;

  /** A withdrawn instrument measures nothing any more. */
  @IsIn(['in-use', 'withdrawn'])
  use: 'in-use' | 'withdrawn';
}

export class InstrumentView {
  code: string;
  revision: number;
  name: string;
  kind: string;
  serial: string | null;
  resolution: string | null;
  intervalDays: number;
  use: string;
}

export class InstrumentRevisionView extends RevisionView {
  record: InstrumentView;
}
