import { Type } from 'class-transformer';
import { ArrayMaxSize, IsArray, IsIn, IsOptional, Matches, ValidateNested } from 'class-validator';
import { CommandDto, SignedCommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsDate, IsInstant, IsPlainText, IsQuantity } from '../../platform/http/fields.js';
import { InstrumentView } from '../catalogue/instrument.dto.js';
import { AS_FOUND, type AsFound, type CalibrationResult, type Conclusion, CONCLUSIONS, RESULTS } from './instrument.facts.js';

/** One point as it was found, in the instrument's own unit. */
export class ReadingDto {
  /** What the reference is, as "25". */
  @IsQuantity()
  nominal: string;

  /** What the instrument showed. */
  @IsQuantity()
  found: string;

  /** Largest difference allowed, either way. */
  @IsQuantity()
  tolerance: string;
}

export class CalibrateInstrumentDto extends CommandDto {
  /** When it was calibrated; left out: now. */
  @IsOptional()
  @IsInstant()
  calibratedAt?: string;

  /** How the instrument arrived, before anybody adjusted it. */
  @IsIn(AS_FOUND)
  asFound: AsFound;

  /** How it was left. */
  @IsIn(RESULTS)
  result: CalibrationResult;

  /** Last day on which it may be used: earlier than the interval says, never later. Left out: as the interval says. */
  @IsOptional()
  @IsDate()
  dueOn?: string;

  /** The laboratory, or the person. */
  @IsPlainText(200)
  calibratedBy: string;

  /** SHA-256 of the stored certificate, in hexadecimal. */
  @IsOptional()
  @Matches(/^[0-9a-f]{64}$/, { message: 'certificateFile: must be a SHA-256: 64 digits 0-9a-f' })
  certificateFile?: string;

  @IsOptional()
  @IsPlainText(2000)
  note?: string;

  /** As found. One outside its tolerance means it was found out of tolerance. */
  @IsOptional()
  @IsArray()
  @ArrayMaxSize(200)
  @ValidateNested({ each: true })
  @Type(() => ReadingDto)
  readings?: ReadingDto[];
}

export class VoidCalibrationDto extends CommandDto {
  /** Why it was recorded in error. */
  @IsPlainText(2000)
  reason: string;
}

export class AnswerQuestionDto extends SignedCommandDto {
  /** What it judged still stands (`no-effect`), or was held, inspected again or recalled (`contained`). */
  @IsIn(CONCLUSIONS)
  conclusion: Conclusion;
}

export class JudgedQueryDto {
  /** Left out: the latest that found or left it out of tolerance. */
  @IsOptional()
  @IsCode()
  calibration?: string;
}

export class ReadingView {
  nominal: string;
  found: string;
  tolerance: string;
  /** Found minus nominal. */
  difference: string;
  pass: boolean;
}

/** Who put a calibration right, and why it counts no more. */
export class CalibrationVoidedView {
  seq: number;
  at: string;
  by: string;
  reason: string;
}

export class CalibrationView {
  calibration: string;
  instrument: string;
  calibratedAt: string;
  asFound: string;
  result: string;
  /** Last day on which the instrument may be used on the strength of it; null after one that failed. */
  dueOn: string | null;
  calibratedBy: string;
  certificateFile: string | null;
  note: string | null;
  readings: ReadingView[] | null;
  /** Ledger entry that recorded it, when and by whom. */
  seq: number;
  recordedAt: string;
  recordedBy: string;
  voided: CalibrationVoidedView | null;
}

/** The time in which nobody can vouch for an instrument, both ends within it. */
export class DoubtfulTimeView {
  /** The calibration it starts from; null: the instrument was never known good before. */
  since: string | null;
  /** The calibration it ends with; null: it goes on. */
  until: string | null;
  from: string | null;
  to: string | null;
}

/** What did an instrument judge since it was last known good? */
export class InstrumentQuestionView {
  /** The calibration that asks: it found or left the instrument out of tolerance. */
  calibration: string;
  instrument: string;
  /** `grown`: answered, but more is in doubt now and waits for an answer; `dropped`: the calibration was recorded in error. */
  state: 'open' | 'answered' | 'grown' | 'dropped';
  openedSeq: number;
  openedAt: string;
  time: DoubtfulTimeView;
  /** Results taken with it in that time, and the lots they judged. */
  results: number;
  lots: number;
  conclusion: string | null;
  reason: string | null;
  /** How many results it was answered for, and how many of those in doubt now the answer did not see. */
  answeredResults: number | null;
  unseen: number;
  answeredSeq: number | null;
  answeredAt: string | null;
  answeredBy: string | null;
}

/** Why an instrument may not be used. */
export class NotUsableView {
  code: string;
  detail: string;
}

export class InstrumentStateView extends InstrumentView {
  usable: boolean;
  why: NotUsableView | null;
  /** Last day on which it may be used; null where no calibration lets it be. */
  dueOn: string | null;
  lastCalibration: string | null;
  lastCalibratedAt: string | null;
  /** Calibrations whose question is not answered. */
  openQuestions: string[];
}

export class InstrumentCardView extends InstrumentStateView {
  /** Every calibration, the latest first; those recorded in error say so. */
  calibrations: CalibrationView[];
  questions: InstrumentQuestionView[];
}
