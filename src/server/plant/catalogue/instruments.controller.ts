import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { CatalogueService } from './catalogue.service.js';
import { InstrumentDto, InstrumentRevisionView, InstrumentView } from './instrument.dto.js';

/** The register; calibrations and the state that follows from them are their own feature. */
@Controller('instruments')
export class InstrumentRegisterController {
  constructor(private readonly catalogue: CatalogueService) {}

  /** Adds an instrument, or its next revision when `revision` and `reason` are given. */
  @Post()
  @May('administrator', 'quality')
  reviseInstrument(@CurrentActor() actor: Actor, @Body() body: InstrumentDto): Promise<InstrumentView> {
    return this.catalogue.revise(actor, 'instrument', body);
  }

  /** Every revision of an instrument's record, first to last: when, by whom and why. */
  @Get(':instrument/history')
  @May(...EVERYONE)
  getInstrumentHistory(@Param('instrument') code: string): Promise<InstrumentRevisionView[]> {
    return this.catalogue.history('instrument', code);
  }
}
