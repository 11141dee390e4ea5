import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import {
  LineDto,
  LineRevisionView,
  LineView,
  LocationDto,
  LocationRevisionView,
  LocationView,
  VesselDto,
  VesselRevisionView,
  VesselView,
} from './catalogue.dto.js';
import { CatalogueService } from './catalogue.service.js';

@Controller('vessels')
export class VesselsController {
  constructor(private readonly catalogue: CatalogueService) {}

  /** Adds a vessel, or its next revision when `revision` and `reason` are given. */
  @Post()
  @May('administrator', 'quality')
  reviseVessel(@CurrentActor() actor: Actor, @Body() body: VesselDto): Promise<VesselView> {
    return this.catalogue.revise(actor, 'vessel', body);
  }

  /** Every vessel as it stands, by code. */
  @Get()
  @May(...EVERYONE)
  listVessels(): Promise<VesselView[]> {
    return this.catalogue.list('vessel');
  }

  /** A vessel as it stands. */
  @Get(':vessel')
  @May(...EVERYONE)
  getVessel(@Param('vessel') code: string): Promise<VesselView> {
    return this.catalogue.one('vessel', code);
  }

  /** Every revision of a vessel, first to last: when, by whom and why. */
  @Get(':vessel/history')
  @May(...EVERYONE)
  getVesselHistory(@Param('vessel') code: string): Promise<VesselRevisionView[]> {
    return this.catalogue.history('vessel', code);
  }
}

@Controller('lines')
export class LinesController {
  constructor(private readonly catalogue: CatalogueService) {}

  /** Adds a line, or its next revision when `revision` and `reason` are given. */
  @Post()
  @May('administrator', 'quality')
  reviseLine(@CurrentActor() actor: Actor, @Body() body: LineDto): Promise<LineView> {
    return this.catalogue.revise(actor, 'line', body);
  }

  /** Every line as it stands, by code. */
  @Get()
  @May(...EVERYONE)
  listLines(): Promise<LineView[]> {
    return this.catalogue.list('line');
  }

  /** A line as it stands. */
  @Get(':line')
  @May(...EVERYONE)
  getLine(@Param('line') code: string): Promise<LineView> {
    return this.catalogue.one('line', code);
  }

  /** Every revision of a line, first to last: when, by whom and why. */
  @Get(':line/history')
  @May(...EVERYONE)
  getLineHistory(@Param('line') code: string): Promise<LineRevisionView[]> {
    return this.catalogue.history('line', code);
  }
}

@Controller('locations')
export class LocationsController {
  constructor(private readonly catalogue: CatalogueService) {}

  /** Adds a location, or its next revision when `revision` and `reason` are given. */
  @Post()
  @May('administrator', 'quality')
  reviseLocation(@CurrentActor() actor: Actor, @Body() body: LocationDto): Promise<LocationView> {
    return this.catalogue.revise(actor, 'location', body);
  }

  /** Every location as it stands, by code. */
  @Get()
  @May(...EVERYONE)
  listLocations(): Promise<LocationView[]> {
    return this.catalogue.list('location');
  }

  /** A location as it stands. */
  @Get(':location')
  @May(...EVERYONE)
  getLocation(@Param('location') code: string): Promise<LocationView> {
    return this.catalogue.one('location', code);
  }

  /** Every revision of a location, first to last: when, by whom and why. */
  @Get(':location/history')
  @May(...EVERYONE)
  getLocationHistory(@Param('location') code: string): Promise<LocationRevisionView[]> {
    return this.catalogue.history('location', code);
  }
}
