import { IsOptional, MaxLength } from 'class-validator';
import { IsCode, IsPlainText } from './fields.js';

/** What every command may carry. */
export class CommandDto {
  /** Made by the client and sent again with a retry: a command is carried out once per id. */
  @IsOptional()
  @IsCode()
  commandId?: string;
}

/** A command that is a signed decision. */
export class SignedCommandDto extends CommandDto {
  /** The signer's password, given again for this decision. Never stored. */
  @MaxLength(1024)
  password: string;

  /** Why: kept with the signature. */
  @IsPlainText(2000)
  reason: string;
}
