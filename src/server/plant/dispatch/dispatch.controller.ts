import { Body, Controller, Get, Header, HttpCode, Param, Post, Query } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { DispatchDto, PickQueryDto, PickView, RecipientView, ReverseShipmentDto, ShipmentFilterDto, ShipmentView } from './dispatch.dto.js';
import { DispatchService } from './dispatch.service.js';
import { shipmentsCsv } from './shipment-csv.js';

@Controller()
export class DispatchController {
  constructor(private readonly dispatching: DispatchService) {}

  /** Sends goods to a customer; refused lines name every reason. */
  @Post('shipments')
  @May('dispatcher', 'administrator')
  dispatchShipment(@CurrentActor() actor: Actor, @Body() body: DispatchDto): Promise<ShipmentView> {
    return this.dispatching.dispatch(actor, body);
  }

  /** The latest 200 shipments that fit, newest first. */
  @Get('shipments')
  @May(...EVERYONE)
  listShipments(@Query() filter: ShipmentFilterDto): Promise<ShipmentView[]> {
    return this.dispatching.shipments(filter, 200);
  }

  /** All shipments that fit, as CSV, one row a line. */
  @Get('shipments.csv')
  @May(...EVERYONE)
  @Header('content-type', 'text/csv; charset=utf-8')
  async listShipmentsCsv(@Query() filter: ShipmentFilterDto): Promise<string> {
    return shipmentsCsv(await this.dispatching.shipments(filter, 100_000));
  }

  /** The dispatch note as CSV, one row a line. */
  @Get('shipments/:shipment.csv')
  @May(...EVERYONE)
  @Header('content-type', 'text/csv; charset=utf-8')
  async getShipmentCsv(@Param('shipment') shipment: string): Promise<string> {
    return shipmentsCsv([await this.dispatching.shipment(shipment)]);
  }

  /** One shipment: the dispatch note, with the lots that go to the recipient. */
  @Get('shipments/:shipment')
  @May(...EVERYONE)
  getShipment(@Param('shipment') shipment: string): Promise<ShipmentView> {
    return this.dispatching.shipment(shipment);
  }

  /** Puts right a shipment recorded in error: its goods stand where they were said to have left from. */
  @Post('shipments/:shipment/reversal')
  @HttpCode(200)
  @May('dispatcher', 'administrator')
  reverseShipment(
    @CurrentActor() actor: Actor,
    @Param('shipment') shipment: string,
    @Body() body: ReverseShipmentDto,
  ): Promise<ShipmentView> {
    return this.dispatching.reverse(actor, shipment, body);
  }

  /** Every business supplied, with what went there. */
  @Get('recipients')
  @May(...EVERYONE)
  listRecipients(@Query() filter: ShipmentFilterDto): Promise<RecipientView[]> {
    return this.dispatching.recipients(filter);
  }

  /** Proposes which stock to take for a quantity, oldest first, and names what is skipped and why. */
  @Get('items/:item/pick')
  @May(...EVERYONE)
  pickStock(@Param('item') item: string, @Query() query: PickQueryDto): Promise<PickView> {
    return this.dispatching.pick(item, query);
  }
}
