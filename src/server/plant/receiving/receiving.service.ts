import { Inject, Injectable } from '@nestjs/common';
import { parseQuantity } from '../../../../shared/quantity.js';
import { Refusal } from '../../../../shared/refusal.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { Reader } from '../../platform/database/reader.js';
import { Lineage } from '../../trace/lineage.js';
import { Commands } from '../commands.js';
import type { Actor } from '../people/access.js';
import { callOffInspections } from '../inspection/calling-off.query.js';
import { openInspections } from '../inspection/opening.query.js';
import { arrivedBy, decideBookDelivery } from './receiving.decide.js';
import type { BookDeliveryDto, DeliveryView, ReverseDeliveryDto } from './receiving.dto.js';
import { deliveries, deliveryView, receivingState } from './receiving.query.js';
import { deliveryReversalState } from './reversal.query.js';
import { decideDeliveryReversal } from './reversal.decide.js';

const unknownDelivery = (code: string): Refusal => new Refusal('unknown', [{ code: 'delivery-unknown', detail: `no delivery ${code}` }]);

@Injectable()
export class ReceivingService {
  constructor(
    private readonly commands: Commands,
    private readonly reader: Reader,
    private readonly lineage: Lineage,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  book(actor: Actor, dto: BookDeliveryDto): Promise<DeliveryView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const command = {
        ...dto,
        receivedAt: dto.receivedAt ?? at,
        lines: dto.lines.map(({ quantity, ...line }) => ({ ...line, quantityMicro: parseQuantity(quantity) })),
      };
      const state = await receivingState(tx, command, this.config.lotPattern, at);
      const booked = decideBookDelivery(command, state);
      await record([booked]);
      await openInspections(tx, record, 'delivery', booked.delivery, arrivedBy(booked));
      return (await deliveryView(tx, state.delivery))!;
    });
  }

  reverse(actor: Actor, delivery: string, dto: ReverseDeliveryDto): Promise<DeliveryView> {
    return this.commands.run(actor, { ...dto, delivery } as ReverseDeliveryDto, async (tx, record) => {
      const state = await deliveryReversalState(tx, this.lineage, delivery);
      if (!state) throw unknownDelivery(delivery);
      await record([decideDeliveryReversal(dto.reason, state)]);
      const lots = state.lots.map(({ lot }) => lot);
      await callOffInspections(tx, record, { source: delivery, lots, reason: dto.reason });
      return (await deliveryView(tx, delivery))!;
    });
  }

  async delivery(code: string): Promise<DeliveryView> {
    const view = await deliveryView(this.reader.manager, code);
    if (!view) throw unknownDelivery(code);
    return view;
  }

  deliveries(): Promise<DeliveryView[]> {
    return deliveries(this.reader.manager, 200);
  }
}
