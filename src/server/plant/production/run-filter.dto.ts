import { IsBooleanString, IsIn, IsOptional } from 'class-validator';
import { IsCode } from '../../platform/http/fields.js';
import { RUN_KINDS, type RunKind } from './run.facts.js';

/** What a list of runs is narrowed by. */
export class RunFilterDto {
  @IsOptional()
  @IsIn(['open', 'closed'])
  state?: 'open' | 'closed';

  @IsOptional()
  @IsIn(RUN_KINDS)
  kind?: RunKind;

  @IsOptional()
  @IsCode()
  vessel?: string;

  @IsOptional()
  @IsCode()
  line?: string;

  /** `true`: only runs with a yield that waits to be explained. */
  @IsOptional()
  @IsBooleanString()
  toExplain?: string;
}
