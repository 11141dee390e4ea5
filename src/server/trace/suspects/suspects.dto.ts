import { Type } from 'class-transformer';
import { ArrayMaxSize, IsArray, IsInt, IsOptional, Max, Min, ValidateNested } from 'class-validator';
import type { SuspectKind } from '../../../../shared/api/suspects.js';
import { IsCode, IsPieces } from '../../platform/http/fields.js';
import { AsKnownAtView, TraceOriginView } from '../trace.dto.js';

export class SuspectsPartDto {
  @IsCode()
  lot: string;

  /** Pieces of the lot, as "5-17,40"; left out: all of them. */
  @IsOptional()
  @IsPieces()
  pieces?: string;
}

/** Pieces that failed: of a lot, or one by its serial. */
export class FailedPiecesDto {
  @IsOptional()
  @IsCode()
  lot?: string;

  @IsOptional()
  @IsPieces()
  pieces?: string;

  @IsOptional()
  @IsCode()
  serial?: string;

  /** Item of `serial`, where several items have the same one. */
  @IsOptional()
  @IsCode()
  item?: string;
}

/** Of which pieces some failed, and which. */
export class SuspectsDto {
  /** Everything that might have failed and been heard of: numbered lots or pieces of them, none twice. */
  @IsArray()
  @ArrayMaxSize(5000)
  @ValidateNested({ each: true })
  @Type(() => SuspectsPartDto)
  population: SuspectsPartDto[];

  /** Those of them that failed, none twice. */
  @IsArray()
  @ArrayMaxSize(5000)
  @ValidateNested({ each: true })
  @Type(() => FailedPiecesDto)
  failed: FailedPiecesDto[];

  /** Ledger entry as of which to answer; left out: everything recorded. */
  @IsOptional()
  @IsInt()
  @Min(0)
  asKnownAt?: number;

  /** How many groups to list, the most over-represented first; left out: 50. All are tested. */
  @IsOptional()
  @IsInt()
  @Min(1)
  @Max(5000)
  top?: number;
}

export class SuspectView {
  kind: SuspectKind;
  code: string;
  item: string | null;
  supplier: string | null;
  /** Of a vessel or an instrument: the cleaning or calibration before and after; null where there was none. */
  from: string | null;
  until: string | null;
  words: string;
}

export class SuspectOddsView {
  /** Conditional maximum likelihood; null: without end. */
  estimate: number | null;
  /** Exact conditional interval. */
  lower: number;
  /** Null: without end. */
  upper: number | null;
  confidence: number;
}

export class SuspectGroupView {
  /** 1 is the most over-represented; equals share a rank. */
  rank: number;
  /** Exactly the same pieces were exposed to each of these: nothing in the record tells them apart. */
  suspects: SuspectView[];
  exposed: number;
  exposedFailed: number;
  exposedSound: number;
  unexposedFailed: number;
  unexposedSound: number;
  /** How many of the failed would be exposed if it made no difference. */
  expectedFailed: number;
  /** Fisher's exact test, one-sided; 0 where it is less than a number can hold. */
  p: number;
  log10P: number;
  /** Adjusted by Holm for how many groups were tested. */
  adjustedP: number;
  /** Whether the adjusted p is at most 0.05. */
  beyondChance: boolean;
  odds: SuspectOddsView;
  says: string;
}

export class SuspectsTotalsView {
  pieces: number;
  failed: number;
  /** Candidates that any piece of the population was exposed to. */
  candidates: number;
  /** Groups of them that could be told apart and were tested. */
  tested: number;
  /** How many of those are listed. */
  listed: number;
  beyondChance: number;
}

export class SuspectsView {
  asKnownAt: AsKnownAtView;
  population: TraceOriginView[];
  failed: TraceOriginView[];
  totals: SuspectsTotalsView;
  groups: SuspectGroupView[];
  /** Every piece was exposed to these, the sound ones too: this population cannot say anything about them. */
  everywhere: SuspectView[];
  assumptions: string[];
  caution: string;
}
