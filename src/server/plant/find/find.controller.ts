import { Controller, Get, Query } from '@nestjs/common';
import { EVERYONE, May } from '../people/access.js';
import { FindDto, FindView } from './find.dto.js';
import { FindService } from './find.service.js';

@Controller('find')
export class FindController {
  constructor(private readonly service: FindService) {}

  /** Finds anything in the record by a code, part of one, part of a name, or what a label says. */
  @Get()
  @May(...EVERYONE)
  findAnything(@Query() query: FindDto): Promise<FindView> {
    return this.service.find(query);
  }
}
