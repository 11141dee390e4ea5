import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { ItemDto, ItemRevisionView, ItemView, PartyDto, PartyRevisionView, PartyView } from './catalogue.dto.js';
import { CatalogueService } from './catalogue.service.js';

@Controller('items')
export class ItemsController {
  constructor(private readonly catalogue: CatalogueService) {}

  /** Adds an item, or its next revision when `revision` and `reason` are given. */
  @Post()
  @May('administrator', 'quality')
  reviseItem(@CurrentActor() actor: Actor, @Body() body: ItemDto): Promise<ItemView> {
    return this.catalogue.revise(actor, 'item', body);
  }

  /** Every item as it stands, by code. */
  @Get()
  @May(...EVERYONE)
  listItems(): Promise<ItemView[]> {
    return this.catalogue.list('item');
  }

  /** An item as it stands. */
  @Get(':item')
  @May(...EVERYONE)
  getItem(@Param('item') code: string): Promise<ItemView> {
    return this.catalogue.one('item', code);
  }

  /** Every revision of an item, first to last: when, by whom and why. */
  @Get(':item/history')
  @May(...EVERYONE)
  getItemHistory(@Param('item') code: string): Promise<ItemRevisionView[]> {
    return this.catalogue.history('item', code);
  }
}

@Controller('parties')
export class PartiesController {
  constructor(private readonly catalogue: CatalogueService) {}

  /** Adds a supplier or customer, or its next revision when `revision` and `reason` are given. */
  @Post()
  @May('administrator', 'quality')
  reviseParty(@CurrentActor() actor: Actor, @Body() body: PartyDto): Promise<PartyView> {
    return this.catalogue.revise(actor, 'party', body);
  }

  /** Every supplier and customer as they stand, by code. */
  @Get()
  @May(...EVERYONE)
  listParties(): Promise<PartyView[]> {
    return this.catalogue.list('party');
  }

  /** A supplier or customer as it stands. */
  @Get(':party')
  @May(...EVERYONE)
  getParty(@Param('party') code: string): Promise<PartyView> {
    return this.catalogue.one('party', code);
  }

  /** Every revision of a supplier or customer, first to last: when, by whom and why. */
  @Get(':party/history')
  @May(...EVERYONE)
  getPartyHistory(@Param('party') code: string): Promise<PartyRevisionView[]> {
    return this.catalogue.history('party', code);
  }
}
