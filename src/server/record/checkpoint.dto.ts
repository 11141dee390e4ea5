import { Transform } from 'class-transformer';
import { IsInt, IsNotEmpty, IsOptional, IsString, MaxLength, Min } from 'class-validator';
import { FaultView, MOST_OF_A_NOTE } from './verification.dto.js';

export class CheckpointQueryDto {
  /** Of the first so many entries; left out: of all there are. */
  @IsOptional()
  @Transform(({ value }: { value: unknown }) => (typeof value === 'string' && /^\d{1,15}$/.test(value) ? Number(value) : value))
  @IsInt()
  @Min(0)
  size?: number;
}

export class CheckpointView {
  /** Whose ledger. */
  origin: string;
  /** Number of entries. */
  size: number;
  /** Root of the Merkle tree (RFC 9162) over their hashes, 32 bytes in base64. */
  root: string;
  /** When the last of them was recorded; null of an empty ledger. */
  at: string | null;
  /** The three as signed text (https://c2sp.org/tlog-checkpoint): what `checkpoint.txt` answers. */
  note: string;
  /** The public key it can be checked with, as verifiers of signed notes take it: name, key id, key. */
  verifierKey: string;
  /** The same key as PEM, as openssl takes it. */
  publicKey: string;
}

export class CheckCheckpointDto {
  /** The note of a checkpoint, from a file or copied from a document. */
  @IsString()
  @IsNotEmpty()
  @MaxLength(MOST_OF_A_NOTE)
  note: string;
}

export class CheckpointCheckView {
  /** What the note says: whose ledger, how many entries, the root of their tree in base64, and when the last was recorded. */
  origin: string;
  size: number;
  root: string;
  at: string | null;
  /** `plant`: this plant's key signed it. `wrong`: it says so and is not true: the text was changed. `other-key`, `none`: it proves no origin. */
  signature: 'plant' | 'wrong' | 'other-key' | 'none';
  /** Whether the ledger of now begins with the very entries that the checkpoint was made of. */
  continues: boolean;
  /** Why it does not. */
  fault: FaultView | null;
  /** The checkpoint of now that it was checked against. */
  now: CheckpointView;
  /** Hashes in base64 that prove the one to be a continuation of the other (RFC 9162 section 2.1.4); empty if it is not, or for none. */
  proof: string[];
}
