import { IsInt, IsOptional, IsString, Matches, MaxLength, Min, ValidateIf } from 'class-validator';

/** Longest note that is read, in characters. One of this program has some 250; others may carry more signatures. */
export const MOST_OF_A_NOTE = 20_000;

export class StartVerificationDto {
  /** A ledger position that somebody wrote down before, as a report or a backup gives it: this ledger must continue it. */
  @ValidateIf((dto: StartVerificationDto) => dto.knownHash !== undefined)
  @IsInt()
  @Min(1)
  knownSeq?: number;

  /** The hash at that position. */
  @ValidateIf((dto: StartVerificationDto) => dto.knownSeq !== undefined)
  @Matches(/^[0-9a-f]{64}$/, { message: 'knownHash: must be 64 hexadecimal digits' })
  knownHash?: string;

  /** The note of an older checkpoint: this ledger must continue it too. Whose signature it bears is asked at `checkpoint/checks`. */
  @IsOptional()
  @IsString()
  @MaxLength(MOST_OF_A_NOTE)
  checkpoint?: string;
}

export class FaultView {
  /** What is wrong, as a word: `changed-body`, `row-differs`. */
  what: string;
  /** The entry, or the table and key of the row. */
  where: string;
  detail: string;
}

export class VerificationView {
  verification: string;
  startedBy: string;
  startedAt: string;
  /** `interrupted`: the server stopped or failed before it was done; start another. */
  state: 'running' | 'sound' | 'faulty' | 'interrupted';
  /** How far it is: the step, and entries or tables done of all. */
  step: string;
  done: number;
  of: number;
  endedAt: string | null;
  /** Entries checked, null until it has ended. */
  entries: number | null;
  /** Hash of the last of them. */
  hash: string | null;
  /** Stored files checked. */
  files: number | null;
  faults: FaultView[];
}
