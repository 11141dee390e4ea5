import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { BookDeliveryDto, DeliveryView, ReverseDeliveryDto } from './receiving.dto.js';
import { ReceivingService } from './receiving.service.js';

@Controller('deliveries')
export class ReceivingController {
  constructor(private readonly receiving: ReceivingService) {}

  /** Books a delivery: one lot a line, in quarantine. */
  @Post()
  @May('clerk', 'administrator')
  bookDelivery(@CurrentActor() actor: Actor, @Body() body: BookDeliveryDto): Promise<DeliveryView> {
    return this.receiving.book(actor, body);
  }

  /** Puts right a delivery booked in error: its lots count as never found, and its paper can be booked again. */
  @Post(':delivery/reversal')
  @HttpCode(200)
  @May('clerk', 'administrator')
  reverseDelivery(
    @CurrentActor() actor: Actor,
    @Param('delivery') delivery: string,
    @Body() body: ReverseDeliveryDto,
  ): Promise<DeliveryView> {
    return this.receiving.reverse(actor, delivery, body);
  }

  /** The latest 200 deliveries, newest first. */
  @Get()
  @May(...EVERYONE)
  listDeliveries(): Promise<DeliveryView[]> {
    return this.receiving.deliveries();
  }

  /** One delivery with its lines. */
  @Get(':delivery')
  @May(...EVERYONE)
  getDelivery(@Param('delivery') delivery: string): Promise<DeliveryView> {
    return this.receiving.delivery(delivery);
  }
}
