import { OmitType } from '@nestjs/swagger';
import { AboutQueryDto } from '../plant/telling/telling.dto.js';

/** Left empty: every entry. Or one record, by its kind and code: the entries that name it. */
export class ExportQueryDto extends OmitType(AboutQueryDto, ['from', 'limit'] as const) {}
