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

/** Whose record this is. */
export class PlantNameView {
  name: string;
  /** Nothing in it is real: every page says so. */
  demo: boolean;
}

/** Who is signed in, and where. */
export class MeView {
  person: string;
  displayName: string | null;
  roles: string[];
  plant: PlantNameView;
}

export class DoneView {
  done: boolean;
}
