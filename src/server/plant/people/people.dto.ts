import { ArrayMaxSize, ArrayMinSize, ArrayUnique, IsArray, IsIn, IsOptional, IsString, MaxLength } from 'class-validator';
import { CommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsPlainText } from '../../platform/http/fields.js';
import { ROLES, type Role } from './people.facts.js';

export class AddPersonDto extends CommandDto {
  /** Code the entries name the person by, for good: initials or a staff number, not a name. */
  @IsCode()
  person: string;

  /** What the person is called. Beside the ledger, so it can be erased. */
  @IsOptional()
  @IsPlainText(200)
  displayName?: string;

  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(ROLES.length)
  @ArrayUnique()
  @IsIn(ROLES, { each: true })
  roles: Role[];

  /** First password, at least 12 characters; leave out for a person who only uses keys. */
  @IsOptional()
  @IsString()
  @MaxLength(1024)
  password?: string;
}

export class ChangeRolesDto extends CommandDto {
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(ROLES.length)
  @ArrayUnique()
  @IsIn(ROLES, { each: true })
  roles: Role[];

  @IsPlainText(2000)
  reason: string;
}

/** Why a person is blocked, or may act again. */
export class PersonReasonDto extends CommandDto {
  @IsPlainText(2000)
  reason: string;
}

export class ResetPasswordDto {
  /** The new password, at least 12 characters; every session of the person ends. */
  @IsString()
  @MaxLength(1024)
  password: string;
}

export class SetNameDto {
  /** What the person is called; leave out to erase the name. Entries keep the code. */
  @IsOptional()
  @IsPlainText(200)
  displayName?: string;
}

export class PersonView {
  person: string;
  displayName: string | null;
  roles: string[];
  blocked: boolean;
  /** False for a person who only uses keys. */
  signsIn: boolean;
}

export class SetUpDto {
  /** The one-time code that the server printed when it started. */
  @IsString()
  @MaxLength(100)
  code: string;

  /** Code of the first administrator. */
  @IsCode()
  person: string;

  @IsOptional()
  @IsPlainText(200)
  displayName?: string;

  @IsString()
  @MaxLength(1024)
  password: string;
}

export class CreateKeyDto {
  /** Whom the key acts as. */
  @IsCode()
  person: string;

  /** Narrows the key to one of the person's roles. */
  @IsOptional()
  @IsIn(ROLES)
  role?: Role;

  /** What the key is for, as `label printer at the dock`. */
  @IsPlainText(200)
  label: string;
}

export class KeyView {
  id: string;
  person: string;
  role: string | null;
  label: string;
  createdBy: string;
  createdAt: string;
  revokedBy: string | null;
  revokedAt: string | null;
}

export class NewKeyView extends KeyView {
  /** The key itself, for `Authorization: Bearer`. Shown this once and stored nowhere. */
  key: string;
}
