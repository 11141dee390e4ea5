import { Controller, Get, Param, ParseIntPipe, Query } from '@nestjs/common';
import { EVERYONE, May } from '../people/access.js';
import { AboutQueryDto, EntriesQueryDto, EntriesView, WholeEntryView } from './telling.dto.js';
import { TellingService } from './telling.service.js';

@Controller('ledger')
export class TellingController {
  constructor(private readonly telling: TellingService) {}

  /** Entries of the ledger in plain words, in order; the latest ones unless `from` says otherwise. */
  @Get('entries')
  @May(...EVERYONE)
  listEntries(@Query() query: EntriesQueryDto): Promise<EntriesView> {
    return this.telling.entries(query);
  }

  /** One entry in plain words, with the exact text that was hashed. */
  @Get('entries/:seq')
  @May(...EVERYONE)
  getEntry(@Param('seq', ParseIntPipe) seq: number): Promise<WholeEntryView> {
    return this.telling.entry(seq);
  }

  /** Every entry that names one record, in plain words: a lot, a run, a delivery, a shipment, a hold and so on. */
  @Get('about')
  @May(...EVERYONE)
  listEntriesAbout(@Query() query: AboutQueryDto): Promise<EntriesView> {
    return this.telling.about(query);
  }
}
