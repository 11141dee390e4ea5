import { Body, Controller, HttpCode, Post } from '@nestjs/common';
import { EVERYONE, May } from '../../plant/people/access.js';
import { SuspectsDto, SuspectsView } from './suspects.dto.js';
import { SuspectsService } from './suspects.service.js';

@Controller('trace/suspects')
export class SuspectsController {
  constructor(private readonly suspects: SuspectsService) {}

  /** Ranks what failed pieces have in common by how much over-represented it is among them; a question, sent as POST because its lists are long. */
  @Post()
  @HttpCode(200)
  @May(...EVERYONE)
  async rankSuspects(@Body() body: SuspectsDto): Promise<SuspectsView> {
    return (await this.suspects.rank(body)) as unknown as SuspectsView;
  }
}
