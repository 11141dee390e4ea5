import { IsOptional } from 'class-validator';
import { SignedCommandDto } from '../../platform/http/command.dto.js';
import { IsPieces } from '../../platform/http/fields.js';

export class QualityDecisionDto extends SignedCommandDto {
  /** Pieces decided on, as "5-17,40"; left out: the whole lot. */
  @IsOptional()
  @IsPieces()
  pieces?: string;
}

/** A decision of quality on a lot, with its signature. */
export class QualityDecisionView {
  /** Ledger entry. */
  seq: number;
  lot: string;
  decision:
    | 'released'
    | 'not accepted'
    | 'back in quarantine'
    | 'hold placed'
    | 'hold lifted'
    | 'urgent release opened'
    | 'urgent release closed';
  /** Hold or urgent release, where it is about one. */
  document: string | null;
  /** Null: a bulk lot as a whole, or what the hold or urgent release named. */
  pieces: string | null;
  reason: string;
  signedBy: string;
  signedAt: string;
  /** What the signature declares. */
  meaning: string;
}
