import { IsString, MaxLength } from 'class-validator';
import { IsCode } from '../../platform/http/fields.js';

export class SignInDto {
  /** Code of the person. */
  @IsCode()
  person: string;

  @IsString()
  @MaxLength(1024)
  password: string;
}

export class ChangePasswordDto {
  @IsString()
  @MaxLength(1024)
  currentPassword: string;

  /** At least 12 characters, and not the person's own code. */
  @IsString()
  @MaxLength(1024)
  newPassword: string;
}

/** Who is signed in. */
export class MeView {
  person: string;
  displayName: string | null;
  roles: string[];
}

export class DoneView {
  done: boolean;
}
