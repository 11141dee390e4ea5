import { IsIn, IsOptional, Matches } from 'class-validator';
import { CommandDto } from '../../platform/http/command.dto.js';
import { IsPlainText } from '../../platform/http/fields.js';
import { ATTACHED_AS, FILE_HASH, type AttachedAs, type MediaType } from './files.facts.js';

export class StoredFileView {
  /** SHA-256 of the content, in hexadecimal: the name by which the record knows the file. */
  sha256: string;
  /** As the sender called it first. */
  name: string;
  /** What the content is. */
  mediaType: MediaType;
  bytes: number;
}

export class AttachFileDto extends CommandDto {
  /** SHA-256 of a stored file. */
  @Matches(FILE_HASH, { message: 'file: must be the 64 hexadecimal digits that storing the file answered' })
  file: string;

  /** What it is to the lot. */
  @IsIn(ATTACHED_AS)
  what: AttachedAs;

  @IsOptional()
  @IsPlainText(2000)
  note?: string;
}

export class DetachFileDto extends CommandDto {
  /** What was wrong with the attachment. */
  @IsPlainText(2000)
  reason: string;
}

export class DetachedView {
  /** Entry that took it back. */
  seq: number;
  reason: string;
  by: string;
  at: string;
}

export class LotFileView extends StoredFileView {
  /** Number of the attachment: the entry that made it. */
  attachment: number;
  what: AttachedAs;
  note: string | null;
  by: string;
  at: string;
  /** Set when the attachment was wrong. */
  detached: DetachedView | null;
}
